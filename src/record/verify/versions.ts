import type { Transaction } from '../events/append.ts';
import { isCanonical } from '../canonical.ts';
import { calculationHash, versionHash } from '../hash.ts';
import type { ChainedEvent } from './chain.ts';
import { eachWithRow, found, ofType, sameAsEvent, sameTime } from './compare.ts';
import { breakIf } from './report.ts';

/** Versions: their own hashes, and what their events recorded. Returns how many. */
export async function checkVersions(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const saved = ofType(events, 'version.saved');
  await eachWithRow(
    saved,
    (event) => event.payload.versionId,
    async (ids) => {
      const rows = await tx.version.findMany({
        where: { id: { in: ids } },
        include: { item: { select: { kind: true } } },
      });
      return new Map(rows.map((row) => [row.id, row]));
    },
    (event, id, there) => {
      const row = found(there, 'version', id, event.seq);
      for (const field of ['content', 'restsOn'] as const) {
        breakIf(!isCanonical(row[field]), 'version', id, `Its ${field} is not canonical JSON any more.`);
      }
      breakIf(
        calculationHash(row.calculation) !== row.calculationHash,
        'version',
        id,
        'Its calculation does not have the hash it is recorded with.',
      );
      const hash = versionHash({
        kind: row.item.kind,
        content: JSON.parse(row.content) as unknown,
        restsOn: JSON.parse(row.restsOn) as unknown,
        calculationHash: row.calculationHash,
        engineVersion: row.engineVersion,
      });
      breakIf(hash !== row.hash, 'version', id, 'Its content does not have the hash it is recorded with.');
      // How it came about is said by the event alone.
      const { origin } = event.payload;
      sameAsEvent('version', id, event.seq, { ...row, versionId: id, origin }, event.payload);
      sameTime('version', id, event, row.createdAt);
    },
  );
  return saved.length;
}

/** Marks: what their events recorded, and that each names its version's hash. Returns how many. */
export async function checkMarks(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const made = ofType(events, 'version.marked');
  await eachWithRow(
    made,
    (event) => event.payload.markId,
    async (ids) => {
      const rows = await tx.mark.findMany({
        where: { id: { in: ids } },
        include: { version: { select: { hash: true, itemId: true } } },
      });
      return new Map(rows.map((row) => [row.id, row]));
    },
    (event, id, there) => {
      const row = found(there, 'mark', id, event.seq);
      sameAsEvent('mark', id, event.seq, { ...row, markId: id, itemId: row.version.itemId }, event.payload);
      sameTime('mark', id, event, row.at);
      breakIf(
        row.versionHash !== row.version.hash,
        'mark',
        id,
        'It names another hash than its version has.',
      );
    },
  );
  return made.length;
}

/** Submissions and what they handed over. */
export async function checkSubmissions(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  for (const event of ofType(events, 'versions.submitted')) {
    const id = event.payload.submissionId;
    const row = found(
      await tx.submission.findUnique({
        where: { id },
        include: { entries: { select: { versionId: true } } },
      }),
      'submission',
      id,
      event.seq,
    );
    const { versions, ...said } = event.payload;
    sameAsEvent('submission', id, event.seq, { ...row, submissionId: id }, said);
    sameTime('submission', id, event, row.at);
    breakIf(
      row.byId !== event.actorId,
      'submission',
      id,
      `Its byId is not the person of event ${event.seq}.`,
    );
    const kept = row.entries.map((entry) => entry.versionId).sort();
    const handed = versions.map((version) => version.versionId).sort();
    breakIf(
      kept.join() !== handed.join(),
      'submission',
      id,
      `It holds other versions than event ${event.seq}.`,
    );
  }
}
