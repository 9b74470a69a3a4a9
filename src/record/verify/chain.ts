import type { Transaction } from '../events/append.ts';
import { isCanonical } from '../canonical.ts';
import { eventHash, GENESIS_HASH } from '../hash.ts';
import { breakIf } from './report.ts';

export interface ChainedEvent {
  readonly seq: number;
  readonly actorId: string | null;
  readonly type: string;
  readonly payload: unknown;
  readonly at: Date;
  readonly hash: string;
}

/** Events in memory at once; a set of a large house names thousands of entries in its one event. */
const BATCH = 100;

/**
 * A project's events in order, each checked against its hash and the one before it; in batches, so that a long log
 * does not fill the memory.
 *
 * @throws Broken at the first that does not hold.
 */
export async function* checkedEvents(
  tx: Transaction,
  projectId: string,
): AsyncGenerator<readonly ChainedEvent[]> {
  let prevHash = GENESIS_HASH;
  let seq = 0;
  for (;;) {
    const rows = await tx.event.findMany({
      where: { projectId, seq: { gt: seq } },
      orderBy: { seq: 'asc' },
      take: BATCH,
    });
    const batch: ChainedEvent[] = [];
    for (const row of rows) {
      const name = String(row.seq);
      breakIf(row.seq !== seq + 1, 'event', String(seq + 1), `Event ${seq + 1} is missing.`);
      breakIf(
        row.prevHash !== prevHash,
        'event',
        name,
        `Event ${row.seq} does not name the hash of the one before it.`,
      );
      breakIf(
        !isCanonical(row.payload),
        'event',
        name,
        `The payload of event ${row.seq} is not canonical JSON.`,
      );
      const payload = JSON.parse(row.payload) as unknown;
      const { at, actorId, actorName, type } = row;
      const hash = eventHash({ projectId, seq: row.seq, at, actorId, actorName, type, payload, prevHash });
      breakIf(
        hash !== row.hash,
        'event',
        name,
        `Event ${row.seq} (${type}) does not have the hash it is recorded with.`,
      );
      batch.push({ seq: row.seq, actorId, type, payload, at, hash });
      prevHash = row.hash;
      seq = row.seq;
    }
    if (batch.length > 0) yield batch;
    if (rows.length < BATCH) return;
  }
}
