import type { Transaction } from '../events/append.ts';
import type { EventPayloads, EventType } from '../events/payloads.ts';
import { canonicalJson, isCanonical } from '../canonical.ts';
import { calculationHash, setHash, versionHash } from '../hash.ts';
import type { SetContent } from '../sets/content.ts';
import type { ChainedEvent } from './chain.ts';
import { Broken, breakIf } from './report.ts';

function ofType<Type extends EventType>(
  events: readonly ChainedEvent[],
  ...types: Type[]
): readonly (ChainedEvent & { readonly payload: EventPayloads[Type] })[] {
  const wanted: readonly string[] = types;
  // The chain vouches for the payload: it is what this program wrote under that type.
  return events.filter((event) => wanted.includes(event.type)) as (ChainedEvent & {
    readonly payload: EventPayloads[Type];
  })[];
}

/** Compares a row with what its event says, field by field; both in canonical JSON. */
function sameAsEvent(table: string, id: string, seq: number, row: object, said: object): void {
  for (const [field, value] of Object.entries(said)) {
    const kept = (row as Record<string, unknown>)[field];
    breakIf(
      canonicalJson(kept ?? null) !== canonicalJson(value ?? null),
      table,
      id,
      `Its ${field} is not what event ${seq} recorded.`,
    );
  }
}

function found<Row>(row: Row | undefined, table: string, id: string, seq: number): Row {
  if (row === undefined) throw new Broken(table, id, `Event ${seq} recorded it, and it is gone.`);
  return row;
}

function sameTime(table: string, id: string, event: ChainedEvent, at: Date): void {
  breakIf(at.getTime() !== event.at.getTime(), table, id, `Its time is not that of event ${event.seq}.`);
}

/** Versions: their own hashes, and what their events recorded. Returns how many. */
export async function checkVersions(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const saved = ofType(events, 'version.saved');
  const rows = await tx.version.findMany({
    where: { id: { in: saved.map((event) => event.payload.versionId) } },
    include: { item: { select: { kind: true } } },
  });
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const event of saved) {
    const id = event.payload.versionId;
    const row = found(byId.get(id), 'version', id, event.seq);
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
    const { itemId, number, reason, authorId, authorRole } = row;
    // How it came about is said by the event alone.
    const { origin } = event.payload;
    const kept = { versionId: id, itemId, number, hash: row.hash, reason, authorId, authorRole, origin };
    sameAsEvent('version', id, event.seq, kept, event.payload);
    sameTime('version', id, event, row.createdAt);
  }
  return saved.length;
}

/** Marks: what their events recorded, and that each names its version's hash. Returns how many. */
export async function checkMarks(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const made = ofType(events, 'version.marked');
  const rows = await tx.mark.findMany({
    where: { id: { in: made.map((event) => event.payload.markId) } },
    include: { version: { select: { hash: true, itemId: true } } },
  });
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const event of made) {
    const id = event.payload.markId;
    const row = found(byId.get(id), 'mark', id, event.seq);
    sameAsEvent('mark', id, event.seq, { ...row, markId: id, itemId: row.version.itemId }, event.payload);
    sameTime('mark', id, event, row.at);
    breakIf(row.versionHash !== row.version.hash, 'mark', id, 'It names another hash than its version has.');
  }
  return made.length;
}

/** Submissions and what they handed over. */
export async function checkSubmissions(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  const submitted = ofType(events, 'versions.submitted');
  const rows = await tx.submission.findMany({
    where: { id: { in: submitted.map((event) => event.payload.submissionId) } },
    include: { entries: { select: { versionId: true } } },
  });
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const event of submitted) {
    const id = event.payload.submissionId;
    const row = found(byId.get(id), 'submission', id, event.seq);
    const { versions, ...said } = event.payload;
    sameAsEvent('submission', id, event.seq, { ...row, submissionId: id }, said);
    sameTime('submission', id, event, row.at);
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

/** Approved sets: the hash of their frozen content, their rows against it, and what their events recorded. */
export async function checkSets(tx: Transaction, events: readonly ChainedEvent[]): Promise<number> {
  const issued = ofType(events, 'set.issued');
  const rows = await tx.approvedSet.findMany({
    where: { id: { in: issued.map((event) => event.payload.setId) } },
    include: { entries: true },
  });
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const event of issued) {
    const id = event.payload.setId;
    const row = found(byId.get(id), 'approved_set', id, event.seq);
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
    const lines = (list: readonly { itemId: string; versionId: string; markId: string }[]) =>
      list
        .map((entry) => `${entry.itemId} ${entry.versionId} ${entry.markId}`)
        .sort()
        .join();
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
  }
  return issued.length;
}

/** Questions, answers and closing words: what their events recorded. */
export async function checkQuestions(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  const said = ofType(events, 'question.asked', 'question.answered', 'question.closed');
  const rows = await tx.question.findMany({
    where: { id: { in: said.map((event) => event.payload.questionId) } },
  });
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const event of said) {
    const id = event.payload.questionId;
    const row = found(byId.get(id), 'question', id, event.seq);
    sameAsEvent('question', id, event.seq, { ...row, questionId: id }, event.payload);
    sameTime('question', id, event, row.at);
  }
}
