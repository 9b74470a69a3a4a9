import type { Role } from '../../people/roles.ts';
import type { StateCounts } from './overview.ts';

export interface NextStep {
  readonly words: string;
  /** Where it is done: a path below the project; '' where it is on the page itself, or somebody else's. */
  readonly to: string;
}

/** The next steps of an opening for one role, in plain words, most pressing first. Pure. */
export function nextSteps(
  role: Role,
  openingId: string,
  hasCriteria: boolean,
  counts: StateCounts,
  newestSet: number,
): NextStep[] {
  const items = (number: number) => (number === 1 ? '1 item' : `${number} items`);
  const { stale, of: count, has } = counts;
  const steps: NextStep[] = [];
  const say = (words: string, to = '') => steps.push({ words, to });
  const enter = (kind: string) => `/items/new?kind=${kind}&opening=${openingId}`;
  if (role === 'contractor') {
    if (!hasCriteria)
      say('Enter the design criteria: every calculation rests on them.', '/items/new?kind=criteria');
    if (!has('survey')) say('Enter the survey: what bears on the wall today.', enter('survey'));
    else if (!has('beam')) say('Propose the beam.', enter('beam'));
    else if (!has('support')) say('Propose the stud packs at both ends.', enter('support'));
    else if (!has('fastening'))
      say(
        'Put the fastening rows in; they can be computed from the design.',
        `/openings/${openingId}/schedule`,
      );
    if (stale > 0) say(`Recalculate ${items(stale)}: what they rest on has moved.`);
    if (count('returned') > 0) say(`Answer ${items(count('returned'))} that the engineer returned.`);
    if (count('not submitted') > 0) say(`Submit ${items(count('not submitted'))} to the engineer.`);
    if (count('awaiting mark') > 0) say(`${items(count('awaiting mark'))} with the engineer.`);
  }
  if (role === 'engineer') {
    if (count('awaiting mark') > 0)
      say(`Mark ${items(count('awaiting mark'))}.`, `/openings/${openingId}/review`);
    if (stale > 0) say(`${items(stale)} can’t be marked until recalculated.`);
    if (count('approved', 'revised') > 0)
      say(
        newestSet === 0 ? 'Issue the first approved set.' : `Set ${newestSet} is in force.`,
        newestSet === 0 ? `/openings/${openingId}/sets/new` : '',
      );
    if (counts.total === 0) say('The contractor has entered nothing yet.');
  }
  return steps;
}
