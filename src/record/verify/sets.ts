import type { Transaction } from '../events/append.ts';
import { checklistHash, GENESIS_HASH, setHash, type HashedCheck } from '../hash.ts';
import type { SetContent } from '../sets/content.ts';
import type { ChainedEvent } from './chain.ts';
import { found, ofType, sameAsEvent, sameTime } from './compare.ts';
import { breakIf } from './report.ts';

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

/** The checklists that sets produced: every line of them, in order, by the one hash in the event. */
export async function checkChecklists(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  for (const event of ofType(events, 'checklist.produced')) {
    const { setId, checks, hash } = event.payload;
    const sum = checklistHash();
    let count = 0;
    for (let after = 0; ;) {
      const rows: HashedCheck[] = await tx.check.findMany({
        where: { setId, ordinal: { gt: after } },
        orderBy: [{ ordinal: 'asc' }, { id: 'asc' }],
        take: CHECKS,
      });
      for (const row of rows) sum.add(row);
      count += rows.length;
      after = rows.at(-1)?.ordinal ?? after;
      if (rows.length < CHECKS) break;
    }
    // A line slipped in under an ordinal that is taken would end a page between the two: counted apart.
    const there = await tx.check.count({ where: { setId } });
    breakIf(
      count !== checks || there !== checks,
      'check',
      setId,
      `The checklist of this set has ${there} checks, and event ${event.seq} recorded ${checks}.`,
    );
    breakIf(
      sum.digest() !== hash,
      'check',
      setId,
      `The checklist of this set does not have the hash that event ${event.seq} recorded.`,
    );
  }
}
