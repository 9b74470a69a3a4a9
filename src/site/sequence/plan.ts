import { z } from 'zod';
import { Invalid, Refused } from '../../problems.ts';
import { daySchema, dayWords } from './day.ts';
import { usualSteps, type StepDefinition } from './steps.ts';

/** What the contractor plans for the steps of an opening: days, people, what the household will notice, steps of its own. */
const stepKey = z.string().regex(/^[a-z0-9_-]{1,60}$/);
const words = (longest: number) => z.string().trim().max(longest, `Use at most ${longest} characters.`);

export const plannedStepSchema = z.strictObject({
  key: stepKey,
  /** '' for the usual steps, which have titles of their own. */
  title: words(80),
  /** Of a step of the contractor's own: the step that it comes after, and the one that waits for it ('' none). */
  after: z.union([z.literal(''), stepKey]),
  heldStep: z.union([z.literal(''), stepKey]),
  off: z.boolean(),
  plannedOn: z.union([z.literal(''), daySchema]),
  who: words(120),
  /** What those who live there will notice that day: 'power off from 8 to 12'. */
  notice: words(200),
});
export const sequenceContentSchema = z.strictObject({ steps: z.array(plannedStepSchema).max(80) });

export type PlannedStep = z.infer<typeof plannedStepSchema>;

export interface SequencePlan {
  /** 0 before anybody planned anything. */
  readonly number: number;
  readonly steps: readonly PlannedStep[];
}

/** A step with what is planned for it, in the order of work. */
export interface Step extends StepDefinition {
  readonly own: boolean;
  readonly planned: PlannedStep;
}

const MOST_OWN_STEPS = 40;

function unplanned(key: string): PlannedStep {
  return { key, title: '', after: '', heldStep: '', off: false, plannedOn: '', who: '', notice: '' };
}

/** The usual steps and the contractor's own in their order; what waits for an own step needs it. Pure. */
export function stepsOf(plan: SequencePlan): Step[] {
  const own = plan.steps.filter(({ title }) => title !== '');
  const ordered: Step[] = usualSteps.map((usual: StepDefinition) => ({
    ...usual,
    own: false,
    needs: [...usual.needs, ...own.filter(({ heldStep }) => heldStep === usual.key).map(({ key }) => key)],
    planned: plan.steps.find(({ key }) => key === usual.key) ?? unplanned(usual.key),
  }));
  for (const planned of own) {
    const before = ordered.findLastIndex(
      ({ key, planned: there, own: isOwn }) =>
        key === planned.after || (isOwn && there.after === planned.after),
    );
    ordered.splice(before === -1 ? ordered.length : before + 1, 0, {
      key: planned.key,
      title: planned.title,
      plain: planned.title,
      from: 'log',
      needs: [],
      mayBeOff: true,
      own: true,
      planned,
    });
  }
  return ordered;
}

/** What a form says of one step. */
export interface StepChange {
  readonly plannedOn: string;
  readonly who: string;
  readonly notice: string;
  readonly off: boolean;
}

export type SequenceChange =
  | { readonly is: 'plan'; readonly steps: Readonly<Record<string, StepChange>>; readonly reason: string }
  | {
      readonly is: 'add';
      readonly key: string;
      readonly title: string;
      readonly after: string;
      readonly heldStep: string;
    };

/**
 * The next plan. Pure.
 *
 * @throws Invalid at the box that does not do; where a day that was told moves and nobody says why
 * @throws Refused for a step that is not there
 */
export function changeSequence(plan: SequencePlan, change: SequenceChange): PlannedStep[] {
  const steps = stepsOf(plan);
  return change.is === 'add'
    ? [...plan.steps, addedStep(plan, steps, change)]
    : plannedSteps(plan, steps, change);
}

function addedStep(
  plan: SequencePlan,
  steps: readonly Step[],
  { key, title, after, heldStep }: Extract<SequenceChange, { is: 'add' }>,
): PlannedStep {
  const judged = plannedStepSchema.shape.title.safeParse(title);
  if (!judged.success) throw new Invalid({ title: judged.error.issues[0]?.message ?? '' });
  if (judged.data === '') throw new Invalid({ title: 'Say what the step is.' });
  if (steps.some((step) => step.title.toLowerCase() === judged.data.toLowerCase())) {
    throw new Invalid({ title: 'There is a step of that name already.' });
  }
  if (plan.steps.filter((step) => step.title !== '').length >= MOST_OWN_STEPS) {
    throw new Invalid({ title: `At most ${MOST_OWN_STEPS} steps of your own. Take one out first.` });
  }
  if (!steps.some((step) => step.key === after)) throw new Invalid({ after: 'Choose the step before it.' });
  if (heldStep !== '' && !steps.some((step) => step.key === heldStep && step.from === 'log' && !step.own)) {
    throw new Invalid({ heldStep: 'Choose a step that can wait for it, or none.' });
  }
  return { ...unplanned(key), title: judged.data, after, heldStep };
}

function plannedSteps(
  plan: SequencePlan,
  steps: readonly Step[],
  { steps: said, reason }: Extract<SequenceChange, { is: 'plan' }>,
): PlannedStep[] {
  const errors: Record<string, string> = {};
  const next = steps.map(({ key, mayBeOff, planned }) => {
    const change = said[key];
    if (change === undefined) return planned;
    const judged = plannedStepSchema.safeParse({ ...planned, ...change, off: mayBeOff && change.off });
    if (judged.success) return judged.data;
    for (const issue of judged.error.issues) errors[`${String(issue.path[0])}.${key}`] ??= wordsOf(issue);
    return planned;
  });
  for (const key of Object.keys(said)) {
    if (!steps.some((step) => step.key === key)) throw new Refused('That step is not in the plan.');
  }
  if (Object.keys(errors).length > 0) throw new Invalid(errors);
  if (reason.trim() === '' && movedDays(plan.steps, next).length > 0) {
    throw new Invalid({ reason: 'A day that the owner was told moves: say why.' });
  }
  return next.filter((step) => step.title !== '' || !isUnplanned(step));
}

function wordsOf(issue: z.core.$ZodIssue): string {
  // A union says of itself only that nothing in it fits.
  if (issue.code !== 'invalid_union') return issue.message;
  return issue.errors.flat().findLast(({ code }) => code !== 'invalid_value')?.message ?? 'Give the day.';
}

function isUnplanned({ off, plannedOn, who, notice }: PlannedStep): boolean {
  return !off && plannedOn === '' && who === '' && notice === '';
}

export interface MovedDay {
  readonly key: string;
  readonly from: string;
  /** '' where no day is told any more. */
  readonly to: string;
}

/** Days that had been told and are others now. Pure. */
export function movedDays(before: readonly PlannedStep[], after: readonly PlannedStep[]): MovedDay[] {
  return before.flatMap(({ key, plannedOn: from }) => {
    const to = after.find((step) => step.key === key)?.plannedOn ?? '';
    return from !== '' && from !== to ? [{ key, from, to }] : [];
  });
}

/** 'was May 9, 2026: the yard sent the wrong plies' */
export function movedWords({ from }: MovedDay, reason: string): string {
  return `was ${dayWords(from)}: ${reason}`;
}
