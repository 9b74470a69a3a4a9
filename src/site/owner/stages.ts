import type { ItemStanding } from '../../record/items/state.ts';
import { isSettled, type CheckStatus } from '../../inspection/status.ts';

export interface Stage {
  readonly title: string;
  readonly words: string;
  readonly state: 'done' | 'under way' | 'to come';
  /** When it came to where it is, by the record; null where nothing of it is there. */
  readonly on: Date | null;
  /** On whom it waits, in plain words; '' where on nobody. */
  readonly waitsOn: string;
}

export interface ProgressFacts {
  readonly standings: readonly ItemStanding[];
  readonly setNumber: number;
  readonly setGaps: number;
  readonly statuses: readonly CheckStatus[];
  /** Visits that were begun and have no outcome yet. */
  readonly openVisits: number;
  /** When these were last done. */
  readonly dates: {
    readonly surveyed: Date | null;
    readonly submitted: Date | null;
    readonly issued: Date | null;
    readonly visited: Date | null;
  };
}

/** How far the job is, for somebody who is no builder. Pure; every word comes from the record. */
export function progressStages(facts: ProgressFacts): Stage[] {
  const { standings, setNumber, statuses, openVisits, dates } = facts;
  const has = (kind: string) =>
    standings.some(({ facts: item, state }) => item.kind === kind && state.is !== 'empty');
  const reviewable = standings.filter(({ facts: item }) => item.reviewable);
  const submitted = reviewable.filter(({ state }) => state.is !== 'not submitted' && state.is !== 'empty');
  const waiting = reviewable.filter(({ state }) => state.is === 'awaiting mark').length;
  const returned = reviewable.filter(
    ({ state, stale }) => state.is === 'returned' || stale.length > 0,
  ).length;
  const settled = statuses.filter(isSettled).length;
  const corrections = statuses.filter((status) => status.state === 'correction');
  const answered = corrections.filter((status) => (status.finding?.answers.length ?? 0) > 0).length;
  const stage = (
    title: string,
    done: boolean,
    begun: boolean,
    words: string,
    waitsOn: string,
    on: Date | null,
  ): Stage => ({
    title,
    on: begun ? on : null,
    words,
    state: done ? 'done' : begun ? 'under way' : 'to come',
    waitsOn: done || !begun ? '' : waitsOn,
  });
  return [
    stage(
      'The wall is looked at',
      has('survey'),
      true,
      has('survey')
        ? 'What the wall holds up is measured and written down.'
        : 'The contractor finds out what the wall holds up.',
      'the contractor',
      dates.surveyed,
    ),
    stage(
      'A beam is worked out',
      submitted.length > 0,
      has('survey'),
      submitted.length > 0
        ? 'The contractor has calculated a beam and what stands under it, and handed it to the engineer.'
        : 'The contractor calculates the beam and what stands under it.',
      'the contractor',
      dates.submitted,
    ),
    stage(
      'The engineer checks it',
      setNumber > 0 && waiting === 0 && returned === 0,
      submitted.length > 0,
      waiting > 0
        ? `The engineer has ${waiting} of ${reviewable.length} parts still to look at.`
        : returned > 0
          ? `${returned} ${returned === 1 ? 'part goes' : 'parts go'} back to the contractor to be changed. That is normal.`
          : submitted.length === 0
            ? 'The engineer looks at every part of it.'
            : 'Every part was looked at.',
      waiting > 0 || returned === 0 ? 'the engineer' : 'the contractor',
      setNumber > 0 ? dates.issued : null,
    ),
    stage(
      'The plans are approved',
      setNumber > 0 && facts.setGaps === 0,
      setNumber > 0,
      setNumber === 0
        ? 'Once approved, the plan gets a number and can no longer change unnoticed. Nothing is taken out before that.'
        : facts.setGaps === 0
          ? `Plan number ${setNumber} is in force.`
          : `Plan number ${setNumber} is in force; ${facts.setGaps} ${facts.setGaps === 1 ? 'part is' : 'parts are'} still open and may not be built yet.`,
      'the engineer',
      dates.issued,
    ),
    stage(
      'Building and inspection',
      // A point in order is the inspector's word only once the visit has an outcome.
      statuses.length > 0 && settled === statuses.length && openVisits === 0,
      setNumber > 0,
      statuses.length === 0
        ? 'The inspector works through a list that comes from the approved plan.'
        : corrections.length > 0
          ? `${settled} of ${statuses.length} points are in order. ${corrections.length} ${corrections.length === 1 ? 'has' : 'have'} to be put right${answered > 0 ? `; the contractor says ${answered} ${answered === 1 ? 'is' : 'are'} done` : ''}.`
          : `${settled} of ${statuses.length} points are in order.${settled === statuses.length && openVisits > 0 ? ' The inspector has not finished the visit yet.' : ''}`,
      corrections.length > answered ? 'the contractor' : 'the inspector',
      dates.visited,
    ),
  ];
}
