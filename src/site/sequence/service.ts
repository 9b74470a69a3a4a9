import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Conflict, Invalid, NotFound, Problem, Refused } from '../../problems.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { dayOf } from '../../house-time.ts';
import { daySchema, dayWords, isToCome } from './day.ts';
import { readSequenceFacts } from './facts.ts';
import { changeSequence, type SequenceChange } from './plan.ts';
import { outOfOrder, stepStandings } from './standing.ts';
import { sequencePlanOf } from './store.ts';

const LONGEST_NAME = 120;
const LONGEST_NOTE = 2000;

/** Work that is out of its order: nothing was logged yet, since nobody has said that it was done all the same. */
export class OutOfOrder extends Problem {
  override readonly name = 'OutOfOrder';
  readonly reasons: readonly string[];
  constructor(reasons: readonly string[]) {
    super('This is out of order. Nothing was logged yet.');
    this.reasons = reasons;
  }
}

/**
 * The next plan of the order of work.
 *
 * @throws Conflict where somebody else planned since `expectedNumber`
 * @throws Invalid at the box that does not do
 */
export async function planSequence(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly expectedNumber: number; readonly change: SequenceChange },
): Promise<void> {
  const openingId = knownId(input.openingId, 'That opening');
  const { change } = input;
  const reason = change.is === 'plan' ? prose(change.reason, 'reason') : '';
  await useCase(deps, actor, 'sequence.plan', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    if ((await tx.opening.count({ where: { id: openingId, projectId } })) === 0) {
      throw new NotFound('That opening');
    }
    const plan = await sequencePlanOf(tx, openingId);
    if (plan.number !== input.expectedNumber) {
      throw new Conflict(
        'Somebody else planned meanwhile. Their plan is shown; what you typed is still in the boxes.',
        null,
      );
    }
    const content = canonicalJson({ steps: changeSequence(plan, change) });
    if (content === canonicalJson({ steps: plan.steps })) return;
    const planId = randomUUID();
    const row = { openingId, number: plan.number + 1, content, reason };
    await tx.sequencePlan.create({ data: { id: planId, projectId, ...row, byId, at } });
    await append('sequence.planned', { planId, ...row });
  });
}

export interface LogWork {
  readonly openingId: string;
  readonly step: string;
  /** As 2026-05-09. */
  readonly doneOn: string;
  readonly who: string;
  readonly note: string;
  /** It was done although something stood against it, and the person was shown what. */
  readonly allTheSame: boolean;
}

/**
 * Logs that a step was done. What was done out of its order is kept as a fact, flagged: a record that leaves it out
 * protects nobody. The same once more (a double tap) adds nothing.
 *
 * @throws OutOfOrder where something stands against it and nobody has said that it was done all the same
 * @throws Invalid at the box that does not do; where the step is logged already
 * @throws Refused for a step that the record itself tells
 */
export async function logWork(
  deps: RecordDeps,
  actor: Actor,
  input: LogWork,
): Promise<{ readonly workEntryId: string; readonly repeated: boolean; readonly flagged: boolean }> {
  const openingId = knownId(input.openingId, 'That opening');
  const who = prose(input.who, 'who');
  const note = prose(input.note, 'note');
  if (who === '') throw new Invalid({ who: 'Say who did it.' });
  if (who.length > LONGEST_NAME) throw new Invalid({ who: `Use at most ${LONGEST_NAME} characters.` });
  if (note.length > LONGEST_NOTE) throw new Invalid({ note: `Use at most ${LONGEST_NOTE} characters.` });
  const day = daySchema.safeParse(input.doneOn);
  if (!day.success) throw new Invalid({ doneOn: day.error.issues[0]?.message ?? '' });
  const doneOn = day.data;
  return useCase(deps, actor, 'work.log', async ({ tx, actor: present, at, kinds, append }) => {
    const { projectId, personId: byId } = present;
    const facts = await readSequenceFacts(tx, kinds, projectId, openingId);
    if (isToCome(doneOn, at, facts.timeZone)) {
      const there = dayWords(dayOf(at, facts.timeZone));
      throw new Invalid({ doneOn: `That day is still to come. In the house it is ${there}.` });
    }
    const standing = stepStandings(facts).find(({ step }) => step.key === input.step);
    if (standing === undefined) throw new NotFound('That step');
    const { step, state, entry } = standing;
    if (step.from === 'record') throw new Refused('This step is read from the record; nobody logs it.');
    if (entry !== null) {
      if (entry.doneOn === doneOn && entry.who === who && entry.note === note) {
        const { workEntryId, outOfOrder: against } = entry;
        return { workEntryId, repeated: true, flagged: against.length > 0 };
      }
      throw new Invalid({ doneOn: 'It is logged already. Take that entry back first if it was wrong.' });
    }
    if (state === 'not in this job')
      throw new Refused(
        'The plan says that this job does not have this step. Change the plan first, if it does.',
      );
    const against = outOfOrder(step, doneOn, facts);
    if (against.length > 0 && !input.allTheSame) throw new OutOfOrder(against);
    const workEntryId = randomUUID();
    const number = (facts.entries.at(-1)?.number ?? 0) + 1;
    const said = { step: step.key, title: step.title, doneOn, who, note, outOfOrder: canonicalJson(against) };
    const row = { openingId, number, ...said };
    await tx.workEntry.create({ data: { id: workEntryId, projectId, ...row, byId, at } });
    await append('work.logged', { workEntryId, ...row });
    return { workEntryId, repeated: false, flagged: against.length > 0 };
  });
}

/**
 * Takes an entry back that was a slip. It stays readable, its flag with it.
 *
 * @throws Invalid without a reason; @throws NotFound for an entry of another project; @throws Refused where it is back already
 */
export async function takeWorkBack(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly workEntryId: string; readonly reason: string },
): Promise<{ readonly openingId: string; readonly step: string }> {
  const workEntryId = knownId(input.workEntryId, 'That entry');
  const reason = prose(input.reason, 'reason');
  if (reason === '') throw new Invalid({ reason: 'Say why the entry was wrong.' });
  return useCase(deps, actor, 'work.log', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId: byId } = present;
    const entry = await tx.workEntry.findFirst({
      where: { id: workEntryId, projectId },
      include: { withdrawal: true },
    });
    if (entry === null) throw new NotFound('That entry');
    if (entry.withdrawal !== null) throw new Refused('That entry was taken back already.');
    const { openingId, title, step } = entry;
    const workWithdrawalId = randomUUID();
    const row = { workEntryId, reason };
    await tx.workWithdrawal.create({ data: { id: workWithdrawalId, projectId, ...row, byId, at } });
    await append('work.withdrawn', { workWithdrawalId, ...row, openingId, title });
    return { openingId, step };
  });
}
