import { wideFlange } from '../../steel/index.ts';
import { Refusal } from '../../trace/refusal.ts';
import { evaluateWoodBeam, woodMember, type WoodMember } from '../../wood/index.ts';
import { actOn, prepareBeam } from '../beam-actions.ts';
import { calculateBeam } from '../beam.ts';
import { woodBeamInput, woodDemands } from '../beam-member.ts';
import type { Criteria } from '../criteria.ts';
import type { Beam, Member } from '../design.ts';
import type { Survey } from '../survey.ts';
import { beamCatalogue, type MaterialKind } from './catalogue.ts';

export interface SearchInput {
  readonly survey: Survey;
  readonly criteria: Criteria;
  /** Everything of the beam but the member. */
  readonly beam: Omit<Beam, 'member'>;
  /** How deep it may be, in; the survey's depth where omitted, and no limit where that says nothing. */
  readonly depthAvailableIn?: number;
  readonly kinds?: readonly MaterialKind[];
  /** Price of a foot of beam by `memberKey`, where the user keeps a list. */
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
  /** Every check that is not met, worst first; empty where it passes. */
  readonly failing: readonly { readonly check: string; readonly ratio: number }[];
  readonly pricePerFoot?: number;
}

export interface SearchResult {
  /** What passes and fits, best first by the rule. */
  readonly ranked: readonly Candidate[];
  /** What misses by little, nearest first, with the reason. */
  readonly nearMisses: readonly Candidate[];
  readonly judged: number;
  readonly rule: string;
}

/** How near a miss has to be to be told. */
const NEAR = 1.25;

export const RANKING_RULE =
  'Of what passes every check and fits the depth: the cheaper first where prices are known, then the lighter, then fewer plies, then the better used.';

/** Names a member in price lists and results: 'composite LVL 2.0E 1.75x11.875 x3'. */
export function memberKey(member: Member): string {
  switch (member.kind) {
    case 'sawn':
      return `sawn ${member.species} ${member.grade} ${member.size} x${member.plies}`;
    case 'composite':
      return `composite ${member.class} ${member.thicknessIn}x${member.depthIn} x${member.plies}`;
    case 'glulam':
      return `glulam ${member.combination} ${member.widthIn}x${member.depthIn}`;
    case 'steel':
      return `steel ${member.shape}`;
    case 'flitch':
      return `flitch ${member.species} ${member.grade} ${member.size} x${member.woodPlies} + ${member.plates} x ${member.plateThicknessIn}x${member.plateDepthIn}`;
  }
}

/**
 * Judges every member of the catalogue on all checks, each with its own weight, and ranks them by a stated rule.
 * Wood goes through the numbers of `evaluateWoodBeam`, which `checkWoodBeam` writes its sheet from.
 *
 * @throws Refusal where the opening itself can't be calculated
 */
export function searchBeams(input: SearchInput): SearchResult {
  const { survey } = input;
  const depthAvailableIn = input.depthAvailableIn ?? survey.depthAvailableIn ?? Infinity;
  const demandsFor = demandsByWeight(input);
  const candidates = beamCatalogue(input.kinds).map((member) =>
    judge(input, member, depthAvailableIn, demandsFor),
  );
  const ranked = candidates.filter((one) => one.passes && one.fitsDepth).sort(byRule);
  const nearMisses = candidates
    .filter((one) => !one.passes && one.fitsDepth && one.utilization <= NEAR)
    .sort((one, other) => one.utilization - other.utilization);
  return { ranked, nearMisses, judged: candidates.length, rule: RANKING_RULE };
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

/** Members of one weight (and, where it matters to shear, one depth) share their statics. */
function demandsByWeight({ survey, criteria, beam }: SearchInput): DemandsFor {
  const prepared = prepareBeam(survey, criteria, beam);
  const known = new Map<string, Demands>();
  return (weightPlf, depthIn) => {
    const key = beam.placement === 'dropped' ? `${weightPlf} ${depthIn}` : `${weightPlf}`;
    const found = known.get(key) ?? woodDemands(actOn(prepared, weightPlf, depthIn), criteria);
    known.set(key, found);
    return found;
  };
}

function judge(
  input: SearchInput,
  member: Member,
  depthAvailableIn: number,
  demandsFor: DemandsFor,
): Candidate {
  const { survey, criteria, beam } = input;
  const common = (depthIn: number, weightPlf: number, plies: number) => {
    const key = memberKey(member);
    const price = input.pricePerFoot?.[key];
    return {
      member,
      key,
      depthIn,
      weightPlf,
      plies,
      fitsDepth: depthIn <= depthAvailableIn,
      ...(price === undefined ? {} : { pricePerFoot: price }),
    };
  };
  if (member.kind === 'steel' || member.kind === 'flitch') {
    const { checks } = calculateBeam(survey, criteria, { ...beam, member });
    const shape = member.kind === 'steel' ? wideFlange(member.shape) : null;
    return {
      ...common(shape?.depthIn ?? 0, shape?.weightPlf ?? 0, 1),
      ...verdict(checks.map(({ id, ratio }) => ({ check: id, ratio }))),
    };
  }
  const wood: WoodMember = woodMember(member, criteria.editions.nds);
  const demands = demandsFor(wood.weightPlf, wood.depthIn);
  return {
    ...common(wood.depthIn, wood.weightPlf, wood.plies),
    ...verdict(ratiosOf(wood, demands, input)),
  };
}

function ratiosOf(
  wood: WoodMember,
  demands: Demands,
  { survey, criteria, beam }: SearchInput,
): { readonly check: string; readonly ratio: number }[] {
  try {
    const { states } = evaluateWoodBeam(woodBeamInput(demands, survey, criteria, beam, wood));
    return states.map(({ id, ratio }) => ({ check: id, ratio }));
  } catch (error) {
    // What the engine refuses of this member (a notch it may not have, wet service it has no value for) is a reason.
    if (error instanceof Refusal) return [{ check: error.message, ratio: Infinity }];
    throw error;
  }
}

/** One part in 10⁹, as `makeCheck` grants it. */
const SLACK = 1e-9;

function verdict(
  ratios: readonly { readonly check: string; readonly ratio: number }[],
): Pick<Candidate, 'passes' | 'utilization' | 'governing' | 'failing'> {
  let worst = { check: '', ratio: 0 };
  for (const one of ratios) if (one.ratio > worst.ratio) worst = one;
  const failing = ratios.filter((one) => one.ratio > 1 + SLACK).sort((one, other) => other.ratio - one.ratio);
  return { passes: failing.length === 0, utilization: worst.ratio, governing: worst.check, failing };
}
