import { drawTimeline, type TimelineMark } from '../../report/drawings/index.ts';
import { dayOf } from '../../house-time.ts';
import { daysBetween, dayWords } from './day.ts';
import type { OpeningFacts } from './facts.ts';
import { WALL_OUT } from './steps.ts';
import { stepStandings, type StepStanding } from './standing.ts';

type Moves = Readonly<Record<string, { readonly from: string; readonly reason: string }>>;

/** A step as the pages show it, in words. */
export function stepView(standing: StepStanding, moves: Moves, timeZone: string) {
  const { step, state, reasons, entry, since } = standing;
  const moved = moves[step.key];
  return {
    key: step.key,
    title: step.title,
    own: step.own,
    logged: step.from === 'log',
    state,
    reasons,
    entry,
    who: entry?.who ?? step.planned.who,
    notice: step.planned.notice,
    off: step.planned.off,
    mayBeOff: step.mayBeOff,
    cautionsOf: step.cautionsOf ?? '',
    doneWords:
      entry !== null
        ? dayWords(entry.doneOn)
        : since !== null && state === 'done'
          ? dayWords(dayOf(since, timeZone))
          : '',
    plannedWords: step.planned.plannedOn === '' ? '' : dayWords(step.planned.plannedOn),
    movedWords: moved === undefined ? '' : `was ${dayWords(moved.from)}: ${moved.reason}`,
    planned: step.planned,
  };
}

export type StepView = ReturnType<typeof stepView>;

/** "Can I take the wall down today?": yes or no, with every reason, and what was logged of it. */
export function wallDownAnswer(facts: OpeningFacts) {
  const standing = stepStandings(facts).find(({ step }) => step.key === WALL_OUT);
  if (standing === undefined) throw new Error('The order of work has no step that takes the wall out.');
  const { state, reasons, entry } = standing;
  return {
    answer:
      state === 'done' ? ('it is out' as const) : state === 'may start' ? ('yes' as const) : ('no' as const),
    reasons,
    entry,
    doneWords: entry === null ? '' : dayWords(entry.doneOn),
    nothingListed: facts.servicesListed === 0,
  };
}

interface DayMark {
  readonly title: string;
  readonly on: string;
  readonly is: TimelineMark['is'];
}

function markOf({ step, state, entry, since }: StepStanding, timeZone: string): DayMark[] {
  const { title, planned } = step;
  if (entry !== null) {
    return [{ title, on: entry.doneOn, is: entry.outOfOrder.length > 0 ? 'out of order' : 'done' }];
  }
  if (state === 'not in this job') return [];
  if (state === 'done') return since === null ? [] : [{ title, on: dayOf(since, timeZone), is: 'done' }];
  return planned.plannedOn === '' ? [] : [{ title, on: planned.plannedOn, is: 'planned' }];
}

/** The steps on a line of days; '' where no day is known. */
export function timelineOf(standings: readonly StepStanding[], now: Date, timeZone: string): string {
  const marks = standings.flatMap((standing) => markOf(standing, timeZone));
  const days = marks.map(({ on }) => on).sort();
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return '';
  const lastDay = daysBetween(first, last);
  const today = daysBetween(first, dayOf(now, timeZone));
  return drawTimeline({
    id: 'timeline',
    title: 'Order of work by day',
    marks: marks.map(({ title, on, is }) => ({
      title,
      is,
      day: daysBetween(first, on),
      dayWords: dayWords(on),
    })),
    lastDay,
    firstWords: dayWords(first),
    lastWords: dayWords(last),
    today: today >= 0 && today <= lastDay ? today : null,
  });
}
