import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { SelfCheckWord } from '../../database/generated/client.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import type { Transaction } from '../../record/events/append.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { checksOfVisit } from '../status.ts';
import { checksOfSet, setForChecklist } from '../store.ts';
import { planOf } from '../plan/store.ts';
import { ownStatuses, sharedWords, type OwnLook, type OwnStatus } from './rules.ts';
import { namesOfPeople } from '../../people/names.ts';

/**
 * The contractor's own look at a check of the newest set, before the inspector is called. Added, never changed; never a
 * finding, and counted nowhere as one. The same once more (a double tap) adds nothing.
 *
 * @throws Invalid where something is not ready and nobody says what @throws NotFound for a check of another project
 */
export async function answerSelfCheck(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly checkId: string; readonly word: SelfCheckWord; readonly note: string },
): Promise<{ readonly openingId: string; readonly repeated: boolean }> {
  const { checkId, word } = input;
  const note = prose(input.note, `note.${checkId}`);
  if (word === 'not_ready' && note === '') {
    throw new Invalid({ [`note.${checkId}`]: 'Say what is not ready yet.' });
  }
  return useCase(deps, actor, 'self_check.answer', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    const check = await tx.check.findFirst({
      where: { id: checkId, projectId },
      select: { setId: true, set: { select: { openingId: true } } },
    });
    if (check === null) throw new NotFound('That check');
    const { openingId } = check.set;
    const newest = await setForChecklist(tx, projectId, openingId);
    if (newest?.setId !== check.setId) {
      throw new Refused('A later set was issued meanwhile. Look at what it asks for now.');
    }
    const last = await tx.selfCheck.findFirst({ where: { checkId }, orderBy: { at: 'desc' } });
    if (last?.word === word && last.note === note && last.byId === byId) return { openingId, repeated: true };
    const selfCheckId = randomUUID();
    await tx.selfCheck.create({ data: { id: selfCheckId, projectId, checkId, word, note, byId, at } });
    await append('self_check.answered', { selfCheckId, checkId, word, note });
    return { openingId, repeated: false };
  });
}

/** The own look at one visit's checks in the newest set; null where there is no set. */
export async function readSelfCheck(
  tx: Pick<
    Transaction,
    | 'approvedSet'
    | 'check'
    | 'finding'
    | 'person'
    | 'visit'
    | 'inspectionPlan'
    | 'holdAcceptance'
    | 'selfCheck'
  >,
  projectId: string,
  openingId: string,
  visitKey: string,
): Promise<{
  readonly set: NonNullable<Awaited<ReturnType<typeof setForChecklist>>>;
  readonly statuses: readonly OwnStatus[];
} | null> {
  const set = await setForChecklist(tx, projectId, openingId);
  if (set === null) return null;
  const checks = checksOfVisit(visitKey, await checksOfSet(tx, set.setId));
  const rows = await tx.selfCheck.findMany({
    where: { projectId, check: { set: { openingId } } },
    orderBy: { at: 'asc' },
    include: { check: { select: { key: true, versionId: true } } },
  });
  const names = await namesOfPeople(
    tx,
    rows.map(({ byId }) => byId),
  );
  const looks = rows.map(({ word, note, at, byId, check }): OwnLook => ({
    word,
    note,
    at,
    byName: names.get(byId) ?? '',
    key: check.key,
    versionId: check.versionId ?? '',
  }));
  return { set, statuses: ownStatuses(checks, looks) };
}

/**
 * The contractor calls the inspector. What the own look leaves open does not forbid it; it is shown to the inspector
 * only where the contractor says so.
 *
 * @throws Refused where the plan has no such inspection or there is no set
 */
export async function callForVisit(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly openingId: string;
    readonly visitKey: string;
    readonly note: string;
    readonly share: boolean;
  },
): Promise<void> {
  const { openingId, visitKey, share } = input;
  const note = prose(input.note, 'note');
  if (note.length > 1000) throw new Invalid({ note: 'Use at most 1000 characters.' });
  await useCase(deps, actor, 'visit.call', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    if ((await tx.opening.findFirst({ where: { id: openingId, projectId } })) === null) {
      throw new NotFound('That opening');
    }
    const planned = (await planOf(tx, projectId)).visits.find(({ key }) => key === visitKey);
    if (planned?.on !== true)
      throw new Refused('This project has no such inspection. Its checklist names those that it has.');
    const own = await readSelfCheck(tx, projectId, openingId, visitKey);
    if (own === null) throw new Refused('There is no approved set yet: nothing to inspect against.');
    const shared = share ? sharedWords(own.statuses) : '';
    const last = await tx.visitCall.findFirst({
      where: { openingId, visitKey },
      orderBy: { at: 'desc' },
    });
    const { setId } = own.set;
    const again = last?.setId === setId && last.note === note && last.shared === shared && last.byId === byId;
    if (again && at.getTime() - last.at.getTime() < 60_000) return;
    const callId = randomUUID();
    const said = { openingId, setId, visitKey, note, shared };
    await tx.visitCall.create({ data: { id: callId, projectId, ...said, byId, at } });
    await append('visit.called', { callId, ...said });
  });
}

interface OpenCall {
  readonly visitKey: string;
  readonly note: string;
  readonly shared: string;
  readonly at: Date;
  readonly byName: string;
}

/** Calls that no visit has answered yet, the last for each visit, by its key. One query. */
export async function openCalls(
  tx: Pick<Transaction, '$queryRaw'>,
  projectId: string,
  openingId: string,
): Promise<Readonly<Record<string, OpenCall>>> {
  const open = await tx.$queryRaw<OpenCall[]>`
    SELECT DISTINCT ON (call.visit_key)
           call.visit_key AS "visitKey", call.note, call.shared, call.at, person.name AS "byName"
    FROM visit_call call JOIN person ON person.id = call.by_id
    WHERE call.project_id = ${projectId}::uuid AND call.opening_id = ${openingId}::uuid AND NOT EXISTS (
      SELECT 1 FROM visit
      WHERE visit.project_id = call.project_id AND visit.opening_id = call.opening_id
        AND CASE visit.kind WHEN 'local' THEN visit.local_visit ELSE visit.kind::text END = call.visit_key
        AND visit.opened_at > call.at
    )
    ORDER BY call.visit_key, call.at DESC`;
  return Object.fromEntries(open.map((call) => [call.visitKey, call]));
}
