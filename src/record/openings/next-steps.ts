import type { Role } from '../../people/roles.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { StateCounts } from './overview.ts';

export interface NextStep {
  readonly words: string;
  /** Where it is done: a path below the project; '' where it is on the page itself, or somebody else's. */
  readonly to: string;
  /** It is with somebody else: nothing to do but to know of it. */
  readonly waits?: true;
}

/** What the next steps need to know beside the states of the items. */
export interface OpeningFacts {
  readonly hasCriteria: boolean;
  /** Faces of a flush beam that joists hang from; 0 where they stand on it. */
  readonly facesToHang: number;
  /** Who is a member of the project by now. */
  readonly roles: ReadonlySet<Role>;
  /** 0 where none is issued. */
  readonly newestSet: number;
  /** Titles of the checks that the inspector wants put right and nobody has answered. */
  readonly corrections: readonly string[];
  /** Some of those that the engineer returned, in list order. */
  readonly returned: readonly { readonly itemId: string; readonly title: string }[];
}

/** Returned items that get a line of their own. */
const RETURNED_NAMED = 4;

/** The first thing that a proposal still lacks on the load's way down, in the order in which one rests on the other. */
function nextEntry(
  { has, entered }: StateCounts,
  facesToHang: number,
): { readonly kind: ItemKind; readonly words: string } | undefined {
  if (!has('survey')) return { kind: 'survey', words: 'Enter the survey: what bears on the wall today.' };
  if (!has('beam')) return { kind: 'beam', words: 'Propose the beam.' };
  const packs = entered('support');
  if (packs === 0) return { kind: 'support', words: 'Propose the stud packs at both ends.' };
  if (packs === 1) return { kind: 'support', words: 'Propose the stud pack at the other end.' };
  const footings = entered('footing');
  if (footings === 0)
    return { kind: 'footing', words: 'Say what is under the packs: the concrete found, or a new pad.' };
  if (footings === 1) return { kind: 'footing', words: 'Say what is under the pack at the other end.' };
  const hung = entered('hanger');
  if (facesToHang > 0 && hung === 0)
    return { kind: 'hanger', words: 'Enter the hangers that carry the joists at the flush beam.' };
  if (hung < facesToHang)
    return { kind: 'hanger', words: 'Enter the hangers at the other face of the beam.' };
  if (!has('shoring')) return { kind: 'shoring', words: 'Plan the temporary walls.' };
  if (!has('fastening'))
    return { kind: 'fastening', words: 'Put the fastening rows in; they can be computed from the design.' };
  return undefined;
}

/** The next steps of an opening for one role, in plain words, most pressing first. Pure. */
export function nextSteps(
  role: Role,
  openingId: string,
  { hasCriteria, facesToHang, roles, newestSet, corrections, returned }: OpeningFacts,
  counts: StateCounts,
): NextStep[] {
  const items = (number: number) => (number === 1 ? '1 item' : `${number} items`);
  const { stale, of: count, has } = counts;
  const steps: NextStep[] = [];
  const say = (words: string, to = '') => steps.push({ words, to });
  const enter = (kind: string) => `/items/new?kind=${kind}&opening=${openingId}`;
  if (role === 'contractor') {
    if (!hasCriteria)
      say('Enter the design criteria: every calculation rests on them.', '/items/new?kind=criteria');
    const entry = nextEntry(counts, facesToHang);
    if (entry !== undefined)
      say(entry.words, entry.kind === 'fastening' ? `/openings/${openingId}/schedule` : enter(entry.kind));
    if (has('survey') && !has('service') && newestSet === 0)
      say(
        'Trace the circuits, pipes and ducts in the wall, and list them.',
        `/openings/${openingId}/services`,
      );
    const [correction] = corrections;
    if (correction !== undefined)
      say(
        corrections.length === 1
          ? `Put right what the inspector found, and say so: ${correction}.`
          : `Put right ${corrections.length} things that the inspector found, and say so.`,
        `/openings/${openingId}/checklist`,
      );
    if (stale > 0) say(`Recalculate ${items(stale)}: what they rest on has moved.`);
    const named = returned.slice(0, RETURNED_NAMED);
    for (const { itemId, title } of named)
      say(`Answer what the engineer returned: ${title}.`, `/items/${itemId}`);
    const further = count('returned') - named.length;
    if (further > 0)
      say(`Answer ${items(further)} ${named.length > 0 ? 'more ' : ''}that the engineer returned.`);
    if (!roles.has('engineer') && count('not submitted', 'awaiting mark') > 0)
      say('Invite the engineer: nobody is there yet who marks what you submit.', '/people');
    if (count('not submitted') > 0) say(`Submit ${items(count('not submitted'))} to the engineer.`);
    if (count('awaiting mark') > 0)
      steps.push({ words: `${items(count('awaiting mark'))} with the engineer.`, to: '', waits: true });
    if (newestSet > 0) {
      if (!roles.has('inspector'))
        say('Invite the inspector: nobody is there yet who looks at the work.', '/people');
      say(
        `Order by the material list of set ${newestSet}, and check what arrives.`,
        `/openings/${openingId}/materials`,
      );
      say('See what may start today, and what waits.', `/openings/${openingId}/sequence`);
    }
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
