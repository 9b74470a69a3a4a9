import type { Role } from '../../people/roles.ts';
import type { StateCounts } from './overview.ts';

/** The next steps of an opening for one role, in plain words, most pressing first. Pure. */
export function nextSteps(
  role: Role,
  hasCriteria: boolean,
  counts: StateCounts,
  newestSet: number,
): string[] {
  const items = (number: number) => (number === 1 ? '1 item' : `${number} items`);
  const { stale, of: count, has } = counts;
  const steps: string[] = [];
  if (role === 'contractor') {
    if (!hasCriteria)
      steps.push('Enter the design criteria on the project’s page: every calculation rests on them.');
    if (!has('survey')) steps.push('Enter the survey: what bears on the wall today.');
    else if (!has('beam')) steps.push('Propose the beam.');
    else if (!has('support')) steps.push('Propose the stud packs at both ends.');
    else if (!has('fastening')) steps.push('Enter the fastening rows.');
    if (stale > 0) steps.push(`Recalculate ${items(stale)}: what they rest on has moved.`);
    if (count('returned') > 0) steps.push(`Answer ${items(count('returned'))} that the engineer returned.`);
    if (count('not submitted') > 0) steps.push(`Submit ${items(count('not submitted'))} to the engineer.`);
    if (count('awaiting mark') > 0) steps.push(`${items(count('awaiting mark'))} with the engineer.`);
  }
  if (role === 'engineer') {
    if (count('awaiting mark') > 0) steps.push(`Mark ${items(count('awaiting mark'))}.`);
    if (stale > 0) steps.push(`${items(stale)} can’t be marked until recalculated.`);
    if (count('approved', 'revised') > 0)
      steps.push(newestSet === 0 ? 'Issue the first approved set.' : `Set ${newestSet} is in force.`);
    if (counts.total === 0) steps.push('The contractor has entered nothing yet.');
  }
  return steps;
}
