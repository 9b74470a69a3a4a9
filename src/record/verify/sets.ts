import type { Transaction } from '../events/append.ts';
import { checklistHash, GENESIS_HASH, setHash } from '../hash.ts';
import type { SetContent } from '../sets/content.ts';
import type { ChainedEvent } from './chain.ts';
import { found, ofType, sameAsEvent, sameTime } from './compare.ts';
import { Broken, breakIf } from './report.ts';

/**
 * Approved sets, one at a time: the hash of the frozen content, the rows against it, what the event recorded, and
 * the head of the log that was frozen into it. Returns how many.
 */
export async function checkSets(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const issued = ofType(events, 'set.issued');
  for (const event of issued) {
    const id = event.payload.setId;
    const row = found(
      await tx.approvedSet.findUnique({ where: { id }, include: { entries: true } }),
      'approved_set',
      id,
      event.seq,
    );
    breakIf(
      setHash(row.content) !== row.hash,
      'approved_set',
      id,
      `The content of set ${row.number} does not have the hash it is recorded with.`,
    );
    const { entries, ...said } = event.payload;
    sameAsEvent('approved_set', id, event.seq, { ...row, setId: id }, said);
    sameTime('approved_set', id, event, row.issuedAt);
    const content = JSON.parse(row.content) as SetContent;
    const frozen = content.entries.map(({ itemId, versionId, mark }) => ({
      itemId,
      versionId,
      markId: mark.markId,
    }));
    breakIf(
      lines(row.entries) !== lines(entries) || lines(frozen) !== lines(entries),
      'approved_set',
      id,
      `The entries of set ${row.number} are not those of event ${event.seq}.`,
    );
    const issuer = content.issuedBy.personId;
    const own = { number: content.number, note: content.note, issuedById: issuer };
    sameAsEvent('approved_set', id, event.seq, row, own);
    await checkFrozenHead(tx, event, id, content);
  }
  return issued.length;
}

function lines(list: readonly { itemId: string; versionId: string; markId: string }[]): string {
  return list
    .map((entry) => `${entry.itemId} ${entry.versionId} ${entry.markId}`)
    .sort()
    .join();
}

/** A set names the last line of the log before it: a log written anew would have another hash there. */
async function checkFrozenHead(
  tx: Transaction,
  event: ChainedEvent,
  setId: string,
  { project, number, log }: SetContent,
): Promise<void> {
  const head =
    log.seq === 0
      ? { hash: GENESIS_HASH }
      : await tx.event.findUnique({
          where: { projectId_seq: { projectId: project.projectId, seq: log.seq } },
          select: { hash: true },
        });
  breakIf(
    head?.hash !== log.hash || log.seq >= event.seq,
    'approved_set',
    setId,
    `The line of the log that set ${number} was frozen with (${log.seq}) has another hash now.`,
  );
}

/** How many checks are in memory at once. */
const CHECKS = 500;

/** The lines of checklists: all that one event recorded, in order, by the one hash in it. */
export async function checkChecklists(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  for (const event of ofType(events, 'checklist.produced')) {
    const { setId, after, checks, hash } = event.payload;
    const last = after + checks;
    const there = await tx.check.count({ where: { setId, ordinal: { gt: after, lte: last } } });
    breakIf(
      there !== checks,
      'check',
      setId,
      `The checklist of this set has ${there} checks, and event ${event.seq} recorded ${checks}.`,
    );
    const sum = checklistHash();
    for (let from = after; from < last; from += CHECKS) {
      const rows = await tx.check.findMany({
        where: { setId, ordinal: { gt: from, lte: Math.min(from + CHECKS, last) } },
        orderBy: [{ ordinal: 'asc' }, { id: 'asc' }],
      });
      for (const row of rows) sum.add(row);
    }
    breakIf(
      sum.digest() !== hash,
      'check',
      setId,
      `The checklist of this set does not have the hash that event ${event.seq} recorded.`,
    );
  }
}

/**
 * Lines of checklists outside of what any event recorded.
 *
 * @throws Broken at the first.
 */
export async function checkUnrecordedChecks(tx: Transaction, projectId: string): Promise<void> {
  // Sorted as a whole before its first is taken: with the key's own order the plan would walk the whole table.
  const [stray] = await tx.$queryRaw<{ id: string }[]>`
    WITH said AS MATERIALIZED (
      SELECT payload::json ->> 'setId' AS set_id, (payload::json ->> 'after')::int AS after,
             (payload::json ->> 'checks')::int AS checks
      FROM event WHERE project_id = ${projectId}::uuid AND type = 'checklist.produced'
    ), strays AS MATERIALIZED (
      SELECT stray.id, stray.set_id, stray.ordinal FROM "check" stray
      LEFT JOIN said ON said.set_id = stray.set_id::text
        AND stray.ordinal > said.after AND stray.ordinal <= said.after + said.checks
      WHERE stray.project_id = ${projectId}::uuid AND said.set_id IS NULL
    )
    SELECT id FROM strays ORDER BY set_id, ordinal LIMIT 1`;
  if (stray) throw new Broken('check', stray.id, 'No event recorded it.');
}
