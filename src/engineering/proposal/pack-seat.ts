import { rectangle, sawnSize } from '../materials/lumber-sizes.ts';
import { wideFlange } from '../steel/index.ts';
import { makeCheck, qty, type Check, type Notice } from '../trace/index.ts';
import {
  checkBearing,
  checkEndBearing,
  ORDINARY_CONDITIONS,
  woodMember,
  type NdsEdition,
  type ServiceConditions,
  type WoodMember,
} from '../wood/index.ts';
import type { EndReaction } from './support.ts';
import type { Beam, Support } from './design.ts';

const SIDE_BY_SIDE = { standard: 'Mechanics', edition: '', section: 'jacks side by side' } as const;
/** An overhang or a gap smaller than this disappears in the thickness of the finish. Common practice. */
const FLUSH_WITHIN_IN = 0.125;

/** What of the beam comes to stand on the pack. */
interface BeamFoot {
  /** Across the wall, in; of a steel beam its flange. */
  readonly breadthIn: number;
  /** The share of that breadth that presses: the steel of a flitch beam may stop short of the support. */
  readonly pressing: number;
  /** The wood that is pressed across its grain; none under a steel beam. */
  readonly wood?: WoodMember;
}

function footOf({ member }: Beam, edition: NdsEdition): BeamFoot {
  switch (member.kind) {
    case 'steel':
      return { breadthIn: wideFlange(member.shape).flangeWidthIn, pressing: 1 };
    case 'flitch': {
      const { species, grade, size, woodPlies, plates, plateThicknessIn } = member;
      const wood = woodMember({ kind: 'sawn', species, grade, size, plies: woodPlies }, edition);
      const breadthIn = wood.breadthIn + plates * plateThicknessIn;
      return { breadthIn, wood, pressing: wood.breadthIn / breadthIn };
    }
    case 'sawn':
    case 'composite':
    case 'glulam': {
      const wood = woodMember(member, edition);
      return { breadthIn: wood.breadthIn, pressing: 1, wood };
    }
  }
}

export interface PackSeatInput {
  readonly beam: Beam;
  readonly support: Support;
  readonly pack: WoodMember;
  /** Along the wall, jacks alone. */
  readonly jackLengthIn: number;
  readonly reactions: readonly EndReaction[];
  readonly edition: NdsEdition;
}

/**
 * Where the beam stands on its jacks: long enough, its own wood across the grain, and the end grain of the jacks, on
 * the smaller of the beam's breadth and the studs' depth (NDS 3.10.1, 3.10.2).
 */
export function judgePackSeat(input: PackSeatInput): {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
} {
  const { beam, support, pack, jackLengthIn, reactions, edition } = input;
  const countedIn = support.end === 'left' ? beam.bearingLeftIn : beam.bearingRightIn;
  const foot = footOf(beam, edition);
  const studDepthIn = sawnSize(support.size, 'size').widthIn;
  const lengthIn = Math.min(jackLengthIn, countedIn);
  const widthIn = Math.min(foot.breadthIn, studDepthIn) * foot.pressing;
  const conditions: ServiceConditions = { ...ORDINARY_CONDITIONS, wet: beam.wet ?? false };
  const heaviest = heaviestBy(reactions, () => 1);
  const worstByDuration = heaviestBy(reactions, ({ loadDuration }) => loadDuration);
  return {
    checks: [
      seatCheck(support, countedIn, jackLengthIn),
      ...(foot.wood === undefined
        ? []
        : [
            checkBearing({
              id: 'pack.beam',
              title: 'Beam on the jacks, across its grain',
              material: foot.wood.material,
              edition,
              conditions,
              loadLb: Math.max(0, heaviest.forceLb),
              lengthIn,
              widthIn,
              endDistanceIn: 0,
              governing: heaviest.name,
            }),
          ]),
      checkEndBearing({
        id: 'pack.top',
        title: 'Top of the jacks, end grain',
        member: { ...pack, section: rectangle(lengthIn, widthIn) },
        edition,
        loadDuration: worstByDuration.loadDuration,
        loadLb: Math.max(0, worstByDuration.forceLb),
        governing: worstByDuration.name,
      }),
    ],
    notices: overhangNotices(foot.breadthIn, studDepthIn),
  };
}

function heaviestBy(
  reactions: readonly EndReaction[],
  divisor: (reaction: EndReaction) => number,
): EndReaction {
  return reactions.reduce((most, one) =>
    one.forceLb / divisor(one) > most.forceLb / divisor(most) ? one : most,
  );
}

/** Does the pack give the beam the length of bearing that the beam was calculated with? */
function seatCheck(support: Support, neededIn: number, jackLengthIn: number): Check {
  const { thicknessIn } = sawnSize(support.size, 'size');
  return makeCheck({
    id: 'pack.seat',
    title: 'Bearing length the beam counts on',
    clause: SIDE_BY_SIDE,
    demand: qty(neededIn, 'in'),
    capacity: qty(jackLengthIn, 'in'),
    steps: [
      {
        id: 'pack.seat.length',
        title: 'Length of the jacks along the beam',
        clause: SIDE_BY_SIDE,
        formula: 'l = n · t',
        values: { n: qty(jackLengthIn / thicknessIn, 'each'), t: qty(thicknessIn, 'in') },
        result: qty(jackLengthIn, 'in'),
      },
    ],
  });
}

function overhangNotices(beamIn: number, studIn: number): Notice[] {
  const overIn = beamIn - studIn;
  if (Math.abs(overIn) <= FLUSH_WITHIN_IN) return [];
  const shown = Number(Math.abs(overIn).toFixed(3));
  return [
    overIn > 0
      ? {
          id: 'pack.overhang',
          severity: 'caution',
          text: `The beam is ${shown} in wider than the studs are deep: only what stands on them counts. Center it, or build the pack as wide as the beam.`,
        }
      : {
          id: 'pack.shim',
          severity: 'note',
          text: `The studs are ${shown} in deeper than the beam is wide: pack the beam out where the finish runs over it.`,
        },
  ];
}
