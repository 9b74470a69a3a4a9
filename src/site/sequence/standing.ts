import { dayWords, isAfterDay } from './day.ts';
import type { Step } from './plan.ts';

/** Work as it was logged, withdrawn or not. */
export interface LoggedWork {
  readonly workEntryId: string;
  readonly number: number;
  readonly step: string;
  readonly title: string;
  readonly doneOn: string;
  readonly who: string;
  readonly note: string;
  /** What stood against it then, a sentence for each. */
  readonly outOfOrder: readonly string[];
  readonly byName: string;
  readonly at: Date;
  readonly withdrawal: { readonly reason: string; readonly byName: string; readonly at: Date } | null;
}

/** What the record says of a step that nobody logs. */
export interface RecordedStep {
  readonly done: boolean;
  /** Why not, a sentence for each. */
  readonly missing: readonly string[];
  /** The same in parts, where one of these sentences is a whole list: 'Waits for 39', and each of them. */
  readonly parts?: { readonly heading: string; readonly lacks: readonly string[] } | null;
  /** Since when; null where it can't be told. */
  readonly since: Date | null;
  /** Where to look: a path within the project. */
  readonly href: string;
}

export interface SequenceFacts {
  readonly openingId: string;
  /** Of the house. */
  readonly timeZone: string;
  readonly steps: readonly Step[];
  readonly recorded: Readonly<Record<string, RecordedStep>>;
  /** Steps that checks of the set in force guard. */
  readonly guarded: readonly string[];
  /** An inspector stopped the work: the sentence; '' where nobody did. */
  readonly stopped: string;
  /** Oldest first. */
  readonly entries: readonly LoggedWork[];
}

export interface Reason {
  readonly sentence: string;
  /** The same in parts, where it lacks several things: what is not done, and each of them. */
  readonly parts?: { readonly title: string; readonly lacks: readonly string[] };
  readonly href: string;
}

export interface StepStanding {
  readonly step: Step;
  readonly state: 'done' | 'may start' | 'waits' | 'not in this job';
  /** What stands against it; empty where it is done or may start. */
  readonly reasons: readonly Reason[];
  /** The entry that speaks; null where nothing was logged, or the record says it. */
  readonly entry: LoggedWork | null;
  readonly since: Date | null;
}

/** Where every step stands, in the order of work. Pure. */
export function stepStandings(facts: SequenceFacts): StepStanding[] {
  return facts.steps.map((step) => standingOf(step, facts));
}

function standingOf(step: Step, facts: SequenceFacts): StepStanding {
  const entry = entryOf(step.key, facts);
  if (entry !== null) return { step, state: 'done', reasons: [], entry, since: null };
  if (!isInJob(step, facts)) return { step, state: 'not in this job', reasons: [], entry: null, since: null };
  if (step.from === 'record') {
    const recorded = recordedOf(step, facts);
    const { done, since, href, missing, parts } = recorded;
    const reasons = missing.map((sentence) =>
      parts ? { sentence, parts: { title: parts.heading, lacks: parts.lacks }, href } : { sentence, href },
    );
    return { step, state: done ? 'done' : 'waits', reasons, entry: null, since };
  }
  const reasons = reasonsAgainst(step, facts);
  return { step, state: reasons.length === 0 ? 'may start' : 'waits', reasons, entry: null, since: null };
}

/** Everything that stands against a step now. Pure. */
export function reasonsAgainst(step: Step, facts: SequenceFacts): Reason[] {
  const stopped =
    facts.stopped === '' ? [] : [{ sentence: facts.stopped, href: within(facts, '/checklist') }];
  return [...stopped, ...needsOf(step, facts).flatMap((need) => whyNotDone(need, facts))];
}

/**
 * What was out of its order in work done on a day: what stands against it now, and what was done only after that day.
 * Pure. A fact for the record, in sentences.
 */
export function outOfOrder(step: Step, doneOn: string, facts: SequenceFacts): string[] {
  const late = needsOf(step, facts).flatMap((need) => {
    const entry = entryOf(need.key, facts);
    if (entry !== null) {
      return entry.doneOn > doneOn ? [`${need.title}: only on ${dayWords(entry.doneOn)}, after this.`] : [];
    }
    const since = need.from === 'record' ? recordedOf(need, facts).since : null;
    return since !== null && recordedOf(need, facts).done && isAfterDay(since, doneOn, facts.timeZone)
      ? [`${need.title}: only after this day.`]
      : [];
  });
  return [...reasonsAgainst(step, facts).map(({ sentence }) => sentence), ...late];
}

function needsOf(step: Step, facts: SequenceFacts): Step[] {
  return facts.steps.filter((one) => step.needs.includes(one.key) && isInJob(one, facts));
}

function whyNotDone(need: Step, facts: SequenceFacts): Reason[] {
  if (entryOf(need.key, facts) !== null) return [];
  if (need.from === 'log') {
    return [
      { sentence: `${need.title}: not logged yet.`, href: within(facts, `/sequence/steps/${need.key}`) },
    ];
  }
  const { done, missing, parts: listed, href } = recordedOf(need, facts);
  if (done) return [];
  const parts = listed
    ? { parts: { title: `${need.title}: ${listed.heading}`, lacks: listed.lacks } }
    : missing.length > 1
      ? { parts: { title: need.title, lacks: missing } }
      : {};
  return [{ sentence: `${need.title}: ${missing.join(' ')}`, ...parts, href }];
}

function within({ openingId }: SequenceFacts, rest: string): string {
  return `/openings/${openingId}${rest}`;
}

function isInJob(step: Step, facts: SequenceFacts): boolean {
  if (step.planned.off) return false;
  return step.onlyWhere === undefined || facts.guarded.includes(step.onlyWhere);
}

function entryOf(key: string, { entries }: SequenceFacts): LoggedWork | null {
  return entries.findLast((entry) => entry.step === key && entry.withdrawal === null) ?? null;
}

/** A step that the record should know and does not is never free. */
function recordedOf({ key }: Step, { recorded }: SequenceFacts): RecordedStep {
  const unknown = { done: false, missing: ['the record says nothing of it.'], since: null, href: '' };
  return recorded[key] ?? unknown;
}
