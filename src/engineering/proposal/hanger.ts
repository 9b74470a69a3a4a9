import { judgeRow, type FasteningRow } from '../fasteners/index.ts';
import { takeOffLoads, type StripTakeOff } from '../loads/index.ts';
import { sawnSize } from '../materials/lumber-sizes.ts';
import { qty, refuseUnless, type Notice, type Step } from '../trace/index.ts';
import { formatFeetInches } from '../units/index.ts';
import { beamGeometry } from './beam-geometry.ts';
import type { Outcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Hanger, Member } from './design.ts';
import { hangingStrips } from './fastening/faces.ts';
import { governingLoad, type GoverningLoad } from './fastening/governing.ts';
import { undescribedPiece } from './fastening/pieces.ts';
import { memberDepthIn } from './member-depth.ts';
import type { Survey } from './survey.ts';

/** Plate that hangers are bent from, 18 gage. Common practice; the listing has the real one. */
export const HANGER_PLATE_IN = 0.048;

/** What one hanger of a line carries, with its derivation. */
export interface HangerDemand {
  /** Of the combination that asks most of the nails, lb. */
  readonly downLb: number;
  readonly deadLb: number;
  readonly liveLb: number;
  readonly combination: string;
  readonly durationFactor: number;
  readonly step: Step;
}

/**
 * The heaviest joist end on one face of a flush beam: half the load of the joist's span (simple spans, since the beam
 * cuts the joists), over the spacing of the line.
 *
 * @throws Refusal where the beam is dropped or no joist hangs on that face
 */
export function hangerDemand(
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'placement' | 'bearingLeftIn' | 'bearingRightIn'>,
  hanger: Pick<Hanger, 'side' | 'spacingIn'>,
): HangerDemand {
  const { side, spacingIn } = hanger;
  refuseUnless(
    beam.placement === 'flush',
    'side',
    'The beam is dropped: joists stand on it, and there is nothing to hang.',
  );
  const takeOff = takeOffLoads(survey, criteria, { joistsAtBeam: 'cut' });
  const ends = hangingStrips({ takeOff, geometry: beamGeometry(survey, beam) }).map((strip) => ({
    strip,
    load: joistEnd(strip, side, spacingIn, criteria),
  }));
  const worst = ends.reduce<(typeof ends)[number] | undefined>(
    (most, one) => (most === undefined || perDuration(one.load) > perDuration(most.load) ? one : most),
    undefined,
  );
  refuseUnless(
    worst !== undefined && worst.load.value > 0,
    'side',
    `The survey has no joists on the ${side} face: there is nothing to hang there.`,
  );
  const { strip, load } = worst;
  const { D, L } = strip[side].plf;
  return {
    downLb: load.value,
    deadLb: (D * spacingIn) / 12,
    liveLb: (L * spacingIn) / 12,
    combination: load.combination,
    durationFactor: load.durationFactor,
    step: {
      id: 'hanger.joist-end',
      title: `${strip.label}: one joist end on the ${side} face, ${load.combination}`,
      clause: { standard: 'Mechanics', edition: '', section: 'simple span, half to each end' },
      formula: 'R = (kD · wD + kL · wL) · s ÷ 12',
      values: {
        kD: qty(load.factors.D),
        wD: qty(D, 'plf'),
        kL: qty(load.factors.L),
        wL: qty(L, 'plf'),
        s: qty(spacingIn, 'in'),
      },
      result: qty(load.value, 'lb'),
    },
  };
}

function joistEnd(
  strip: StripTakeOff,
  side: Hanger['side'],
  spacingIn: number,
  { editions }: Criteria,
): GoverningLoad {
  const { D, L } = strip[side].plf;
  return governingLoad(editions, { D: (D * spacingIn) / 12, L: (L * spacingIn) / 12 });
}

/** Nails hold more for a shorter time (NDS 11.3.2): what governs is force ÷ CD. */
function perDuration({ value, durationFactor }: GoverningLoad): number {
  return value / durationFactor;
}

/**
 * A line of joist hangers by its listing: the joist end held against the listed load, the nails against those that the
 * listing asks for.
 *
 * @throws Refusal with the path of the entry that can't be
 */
export function calculateHanger(survey: Survey, criteria: Criteria, beam: Beam, hanger: Hanger): Outcome {
  const joist = sawnSize(hanger.joistSize, 'joistSize');
  const demand = hangerDemand(survey, criteria, beam, hanger);
  const judged = judgeRow(rowOf(criteria, hanger, demand), criteria.editions);
  return {
    checks: judged.checks,
    steps: [demand.step],
    notices: [
      ...judged.notices,
      ...hangerNotices(beam.member, joist.widthIn, hanger),
      ...belowJoists(survey, beam.member, joist.widthIn),
    ],
    outputs: {
      'load of one hanger': qty(demand.downLb, 'lb'),
      'nails a hanger': qty(hanger.nailCount, 'each'),
    },
  };
}

/** The line as a row of the fastening schedule, which is where listings are judged. */
function rowOf({ editions }: Criteria, hanger: Hanger, demand: HangerDemand): FasteningRow {
  const joist = undescribedPiece('joist', hanger.joistSize, editions);
  const { listing } = hanger;
  return {
    id: `hangers-${hanger.side}`,
    joint: 'joist hanger',
    where: `Joists on the ${hanger.side} face, each hanger`,
    members: [
      {
        name: 'hanger',
        species: '',
        material: 'steel',
        thicknessIn: HANGER_PLATE_IN,
        widthIn: 4,
        angleDeg: 0,
      },
      {
        name: 'beam and joist',
        species: joist.species,
        material: 'wood',
        specificGravity: joist.specificGravity,
        thicknessIn: joist.thicknessIn,
        widthIn: joist.widthIn,
        angleDeg: 90,
      },
    ],
    layup: 'through',
    betweenIn: 0,
    fastener: {
      kind: 'nail',
      style: 'connector',
      diameterIn: hanger.nailDiameterIn,
      lengthIn: hanger.nailLengthIn,
    },
    method: 'face',
    driven: 'one side',
    pattern: {
      kind: 'count',
      count: hanger.nailCount,
      rows: 2,
      spacingIn: 1.5,
      rowSpacingIn: 2.5,
      staggered: false,
    },
    edgeDistanceIn: 1,
    endDistanceIn: 2.5,
    endLoading: 'compression',
    loadRuns: 'along rows',
    prebored: false,
    inDiaphragm: false,
    conditions: { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 75 },
    demand: {
      per: 'connector',
      downLb: demand.downLb,
      upLb: 0,
      durationFactor: demand.durationFactor,
      combination: demand.combination,
      source: `Reaction of one joist on the ${hanger.side} face of the beam.`,
    },
    basis: { kind: 'listing', ...(listing === undefined ? {} : { listing }) },
    note: '',
  };
}

function hangerNotices(member: Member, joistDepthIn: number, hanger: Hanger): Notice[] {
  const notices: Notice[] = [];
  const beamDepthIn = memberDepthIn(member);
  if (joistDepthIn > beamDepthIn) {
    notices.push({
      id: 'hanger.joist-deeper',
      severity: 'caution',
      text: `A ${hanger.joistSize} joist is deeper than the beam (${joistDepthIn} in on ${beamDepthIn} in): the hanger has no wood behind its lower or upper holes.`,
    });
  }
  if (member.kind === 'steel') {
    notices.push({
      id: 'hanger.on-steel',
      severity: 'caution',
      text: 'The beam is steel: hangers are nailed to a wood nailer, whose bolts to the steel need a row of their own.',
    });
  }
  return notices;
}

/**
 * What a flush beam hangs below the joists, in: it takes the floor with its top, and the jacks under it end that much lower
 * (common practice). 0 where it is no deeper than they are.
 */
export function belowJoistsIn(member: Member, joistDepthIn: number): number {
  return Math.max(0, memberDepthIn(member) - joistDepthIn);
}

function belowJoists({ wallHeightIn }: Survey, member: Member, joistDepthIn: number): Notice[] {
  const belowIn = belowJoistsIn(member, joistDepthIn);
  if (belowIn === 0) return [];
  // Over a bottom plate of one 2x; the joists lie at the height of the wall.
  const underJoistsIn = wallHeightIn - sawnSize('2x4', 'plate').thicknessIn;
  const tape = (inches: number) => formatFeetInches(inches, { to: 16 });
  return [
    {
      id: 'hanger.beam-below',
      severity: 'caution',
      text: `With its top level with the joists the beam hangs ${tape(belowIn)} below them: the jacks under it are ${tape(underJoistsIn - belowIn)} high, not ${tape(underJoistsIn)}. See that the supports say so.`,
      clause: { standard: 'Practice', edition: '', section: 'flush beam, its top level with the joists' },
    },
  ];
}
