import { sawnSize } from '../../materials/lumber-sizes.ts';
import { wideFlange } from '../../steel/index.ts';
import { Refusal } from '../../trace/refusal.ts';
import { evaluateWoodBeam, type WoodMember } from '../../wood/index.ts';
import { prepareBeam, type PreparedBeam } from '../beam-actions.ts';
import { forcesByWeight } from '../beam-forces.ts';
import { actWith, deadSag, joistSpacing, sagDemands, woodBeamInput, woodDemands } from '../beam-member.ts';
import type { Criteria } from '../criteria.ts';
import type { Beam, Member } from '../design.ts';
import type { Survey } from '../survey.ts';
import { beamCatalogue, memberKey, pieceKey, woodEntry, type MaterialKind } from './catalogue.ts';

export interface SearchInput {
  readonly survey: Survey;
  readonly criteria: Criteria;
  /** Everything of the beam but the member. */
  readonly beam: Omit<Beam, 'member'>;
  /** How deep it may be, in; the survey's depth where omitted, and no limit where that says nothing. */
  readonly depthAvailableIn?: number;
  readonly kinds?: readonly MaterialKind[];
  /** Price of a foot of one ply by `pieceKey`, where the user keeps a list. */
  readonly pricePerFoot?: Readonly<Record<string, number>>;
}

export interface Candidate {
  readonly member: Member;
  readonly key: string;
  readonly depthIn: number;
  readonly weightPlf: number;
  readonly plies: number;
  readonly passes: boolean;
  readonly fitsDepth: boolean;
  /** The highest ratio of demand to capacity. */
  readonly utilization: number;
  /** The check with that ratio: 'beam.bending'. */
  readonly governing: string;
  /** Every check that is not met, and the depth where it does not fit, worst first; empty where it would do. */
  readonly failing: readonly { readonly check: string; readonly ratio: number }[];
  /** Of the whole beam, all plies. */
  readonly pricePerFoot?: number;
}

export interface SearchResult {
  /** What passes and fits, best first by the rule. */
  readonly ranked: readonly Candidate[];
  /** What misses by little in every respect, nearest first, with the reasons. */
  readonly nearMisses: readonly Candidate[];
  readonly judged: number;
  readonly rule: string;
}

/** One part in 10⁹, as `makeCheck` grants it. */
const SLACK = 1e-9;
/** Named like a check, so that a list of reasons reads alike. */
const DEPTH = 'fit.depth';
/** How near a miss has to be to be told. */
const NEAR = 1.25;

export const RANKING_RULE =
  'Of what passes every check and fits the depth: the cheaper first where prices are known, then the lighter, then fewer plies, then the better used.';

/**
 * Judges every member of the catalogue on all checks, each with its own weight, and ranks them by a stated rule.
 * Wood goes through the numbers of `evaluateWoodBeam`, which `checkWoodBeam` writes its sheet from.
 *
 * @throws Refusal where the opening itself can't be calculated
 */
export function searchBeams(input: SearchInput): SearchResult {
  const { survey, criteria, beam } = input;
  const prepared = prepareBeam(survey, criteria, beam);
  const unbracedIn = beam.unbracedIn ?? joistSpacing(survey, prepared.geometry.spanIn);
  const asked: Asked = {
    ...input,
    beam: { ...beam, unbracedIn },
    prepared,
    depthIn: input.depthAvailableIn ?? survey.depthAvailableIn ?? Infinity,
    demandsFor: demandsByWeight(prepared, input),
  };
  const candidates = beamCatalogue(input.kinds).map((member) => judge(asked, member));
  return {
    ranked: candidates.filter((one) => one.passes && one.fitsDepth).sort(byRule),
    nearMisses: candidates
      .filter((one) => one.failing.length > 0 && missesBy(one) <= NEAR)
      .sort((one, other) => missesBy(one) - missesBy(other)),
    judged: candidates.length,
    rule: RANKING_RULE,
  };
}

function missesBy({ failing }: Candidate): number {
  return failing[0]?.ratio ?? 0;
}

function byRule(one: Candidate, other: Candidate): number {
  return (
    (one.pricePerFoot ?? Infinity) - (other.pricePerFoot ?? Infinity) ||
    one.weightPlf - other.weightPlf ||
    one.plies - other.plies ||
    other.utilization - one.utilization ||
    (one.key < other.key ? -1 : 1)
  );
}

type Demands = ReturnType<typeof woodDemands>;
type DemandsFor = (weightPlf: number, depthIn: number) => Demands;

/** The question with all that one opening answers for every member at once. */
interface Asked extends SearchInput {
  readonly prepared: PreparedBeam;
  readonly depthIn: number;
  readonly demandsFor: DemandsFor;
}

/** Members of one weight (and, where it matters to shear, one depth) share their statics. */
function demandsByWeight(prepared: PreparedBeam, { criteria, beam }: SearchInput): DemandsFor {
  const { geometry, passing, solved } = prepared;
  const forcesFor = forcesByWeight(prepared);
  const known = new Map<number, Map<number, Demands>>();
  return (weightPlf, depthIn) => {
    const depth = beam.placement === 'dropped' ? depthIn : 0;
    const ofDepth = known.get(depth) ?? new Map<number, Demands>();
    known.set(depth, ofDepth);
    const found = ofDepth.get(weightPlf);
    if (found !== undefined) return found;
    const sags = sagDemands(geometry.spanIn, passing, deadSag({ solved, weightPlf }));
    const demands = woodDemands(geometry, forcesFor(weightPlf, depthIn), sags, criteria);
    ofDepth.set(weightPlf, demands);
    return demands;
  };
}

type Ratio = Candidate['failing'][number];

function judge(asked: Asked, member: Member): Candidate {
  const { survey, criteria, beam, prepared } = asked;
  if (member.kind === 'steel' || member.kind === 'flitch') {
    const { checks, actions } = actWith(survey, criteria, { ...beam, member }, prepared);
    const depthIn =
      member.kind === 'steel'
        ? wideFlange(member.shape).depthIn
        : Math.max(member.plateDepthIn, sawnSize(member.size, 'member.size').widthIn);
    const ratios = checks.map(({ id, ratio }) => ({ check: id, ratio }));
    return candidate(asked, member, memberKey(member), depthIn, actions.weightPlf, 1, ratios);
  }
  const { wood, key } = woodEntry(member, criteria.editions.nds);
  const ratios = ratiosOf(wood, asked);
  return candidate(asked, member, key, wood.depthIn, wood.weightPlf, wood.plies, ratios);
}

function candidate(
  asked: Asked,
  member: Member,
  key: string,
  depthIn: number,
  weightPlf: number,
  plies: number,
  ratios: readonly Ratio[],
): Candidate {
  let worst: Ratio = { check: '', ratio: 0 };
  const failing: Ratio[] = [];
  for (const one of ratios) {
    if (one.ratio > worst.ratio) worst = one;
    if (one.ratio > 1 + SLACK) failing.push(one);
  }
  const passes = failing.length === 0;
  const fitsDepth = depthIn <= asked.depthIn;
  if (!fitsDepth) failing.push({ check: DEPTH, ratio: depthIn / asked.depthIn });
  if (failing.length > 1) failing.sort((one, other) => other.ratio - one.ratio);
  const price = asked.pricePerFoot?.[pieceKey(member)];
  return {
    member,
    key,
    depthIn,
    weightPlf,
    plies,
    passes,
    fitsDepth,
    utilization: worst.ratio,
    governing: worst.check,
    failing,
    ...(price === undefined ? {} : { pricePerFoot: price * plies }),
  };
}

function ratiosOf(wood: WoodMember, { survey, criteria, beam, demandsFor }: Asked): Ratio[] {
  const demands = demandsFor(wood.weightPlf, wood.depthIn);
  try {
    const { states } = evaluateWoodBeam(woodBeamInput(demands, survey, criteria, beam, wood));
    return states.map(({ id, ratio }) => ({ check: id, ratio }));
  } catch (error) {
    // What the engine refuses of this member (a notch it may not have, wet service it has no value for) is a reason.
    if (error instanceof Refusal) return [{ check: error.message, ratio: Infinity }];
    throw error;
  }
}
