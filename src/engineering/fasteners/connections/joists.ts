import type { Step } from '../../trace/index.ts';
import { pennyNail, type Nail } from '../dowels/fastener.ts';
import { rafterThrust } from '../heel-joint.ts';
import type { FasteningRow } from '../schedule/row.ts';
import type { FasteningContext, HangerLine, TieLine } from './context.ts';
import { eighthUp, firstThatPasses, makeRow, steelMember, woodMember } from './row-maker.ts';

/** Connector nail: full shank, short; wherever the point would come through nothing is gained by length. */
export const STRAP_NAIL: Nail = { kind: 'nail', style: 'connector', diameterIn: 0.148, lengthIn: 1.5 };
const HANGER_STEEL_IN = 0.048;

/** Hangers by required load; the listing (report, loads, nails) is the user's to enter. */
export function proposeHangers(context: FasteningContext, line: HangerLine): readonly FasteningRow[] {
  const { beam } = context;
  if (beam === undefined) return [];
  const { listing } = line;
  return [
    makeRow(context, {
      id: `hangers-${line.side}`,
      joint: 'joist hanger',
      where: `Joists on the ${line.side} face, each hanger`,
      members: [
        steelMember('hanger', HANGER_STEEL_IN, 4),
        woodMember(beam.ply, { name: 'beam', thicknessIn: beam.ply.thicknessIn * beam.plies, angleDeg: 90 }),
      ],
      fastener:
        listing === undefined
          ? pennyNail('common', '10d')
          : {
              kind: 'nail',
              style: 'connector',
              diameterIn: listing.nailDiameterIn,
              lengthIn: listing.nailLengthIn,
            },
      pattern: {
        kind: 'count',
        count: listing?.nailsRequired ?? 10,
        rows: 2,
        spacingIn: 1.5,
        rowSpacingIn: 2.5,
        staggered: false,
      },
      demand: {
        per: 'connector',
        downLb: line.downLb,
        upLb: line.upLb,
        durationFactor: line.durationFactor,
        combination: line.combination,
        source: `Reaction of one joist on the ${line.side} face of the beam.`,
      },
      basis: { kind: 'listing', ...(listing === undefined ? {} : { listing }) },
      note: 'Every hole filled; joist seated, gap 1/8 in at most.',
    }),
  ];
}

/** The force in one tie strap over the beam, lb, with its derivation. */
export function tieForce(
  context: FasteningContext,
  ties: TieLine,
): { forceLb: number; steps: readonly Step[] } {
  const { thrustLb, steps } = rafterThrust(ties.rafters, context.editions, 'tie');
  return { forceLb: (thrustLb * ties.strapEveryIn) / ties.rafters.spacingIn, steps };
}

/** Straps that carry the rafters' thrust across the beam where the ceiling joists are cut (IRC R802.5.2). */
export function proposeJoistTies(context: FasteningContext): readonly FasteningRow[] {
  const { ties } = context;
  if (ties === undefined) return [];
  const { forceLb } = tieForce(context, ties);
  const candidates = [4, 5, 6, 7, 8, 10, 12, 14, 16, 20].map((count) =>
    makeRow(context, {
      id: 'joist-ties',
      joint: 'joist tie',
      where: `Strap over the beam, joist to joist, every ${ties.strapEveryIn} in, each end of the strap`,
      members: [
        steelMember('strap', ties.strapThicknessIn, ties.strapWidthIn),
        woodMember(ties.joist, {
          // The strap lies on the joist's edge: the nails go down into its depth.
          thicknessIn: ties.joist.widthIn,
          widthIn: ties.joist.thicknessIn,
        }),
      ],
      fastener: STRAP_NAIL,
      pattern: { kind: 'count', count, rows: 1, spacingIn: 1.5, rowSpacingIn: 0, staggered: true },
      edgeDistanceIn: eighthUp(Math.min(ties.strapWidthIn, ties.joist.thicknessIn) / 3),
      endDistanceIn: 2.5,
      endLoading: 'tension',
      demand: {
        per: 'joint',
        lateralLb: forceLb,
        withdrawalLb: 0,
        durationFactor: ties.durationFactor,
        combination: ties.combination,
        source: `Rafter thrust w L²/(8 h) for each pair, one strap for every ${(ties.strapEveryIn / ties.rafters.spacingIn).toFixed(2)} pairs (IRC R802.5.2).`,
      },
      basis: { kind: 'yield limit', shear: 'single' },
      prescriptiveItem: 'ceiling joist to parallel rafter',
      note: 'The strap’s own tension value is its listing’s. Straps go on before the joists are cut.',
    }),
  );
  return [firstThatPasses(candidates, context.editions)];
}
