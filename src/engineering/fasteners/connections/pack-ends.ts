import { pennyNail, pneumaticNail } from '../dowels/fastener.ts';
import type { FasteningRow } from '../schedule/row.ts';
import type { FasteningContext, PackFastening } from './context.ts';
import { eighthUp, firstThatPasses, makeRow, steelMember, woodMember } from './row-maker.ts';

const label = (end: 'left' | 'right'): string => (end === 'left' ? 'Left' : 'Right');
/** Wind on the kings (NDS Table 2.3.2). */
const WIND_DURATION_FACTOR = 1.6;
/** Steel of straps and caps unless a listing says otherwise, in (16 gauge, common practice). */
const CONNECTOR_STEEL_IN = 0.054;

/** Where a toe-nail starts: about a third of its length from the end (NDS 12.1.6.3), to be read off a tape. */
const toeStartIn = (lengthIn: number): number => eighthUp(lengthIn / 3);

/** Kings to the plates, toe-nailed at both ends: they are cut in between plates that stand. */
export function proposeKingToPlate(context: FasteningContext, pack: PackFastening): readonly FasteningRow[] {
  if (pack.kings < 1) return [];
  const candidates = [pennyNail('common', '8d'), pneumaticNail(0.131, 3)].flatMap((fastener) =>
    [4, 5, 6, 8].map((count) =>
      makeRow(context, {
        id: `king-to-plate-${pack.end}`,
        joint: 'king to plate',
        where: `${label(pack.end)} kings, top and bottom, each end of each king`,
        members: [woodMember(pack.stud, { name: 'king' }), woodMember(pack.plate, { angleDeg: 90 })],
        fastener,
        method: 'toe',
        driven: 'both sides',
        pattern: { kind: 'count', count, rows: 2, spacingIn: 1.5, rowSpacingIn: 1, staggered: false },
        edgeDistanceIn: 0.75,
        endDistanceIn: toeStartIn(fastener.lengthIn),
        demand:
          pack.kingLateralLb > 0
            ? {
                per: 'joint',
                lateralLb: pack.kingLateralLb / pack.kings,
                withdrawalLb: 0,
                durationFactor: WIND_DURATION_FACTOR,
                combination: '0.6 W',
                source: `Wind on the wall beside the opening: ${Math.round(pack.kingLateralLb)} lb at each end of ${pack.kings} king(s).`,
              }
            : {
                per: 'none',
                durationFactor: 1,
                combination: '',
                source: 'No wind on this wall: the nails hold the king in place.',
              },
        basis: pack.kingLateralLb > 0 ? { kind: 'yield limit', shear: 'single' } : { kind: 'prescriptive' },
        prescriptiveItem: 'plate to stud, toe',
      }),
    ),
  );
  return [firstThatPasses(candidates, context.editions)];
}

/** King into the end of the beam: keeps it upright and in place. */
export function proposeBeamToKing(context: FasteningContext, pack: PackFastening): readonly FasteningRow[] {
  const { beam } = context;
  if (beam === undefined || pack.kings < 1) return [];
  return [
    makeRow(context, {
      id: `beam-to-king-${pack.end}`,
      joint: 'beam to king',
      where: `${label(pack.end)} end of beam, toe-nailed to the king`,
      members: [
        woodMember(beam.ply, { name: 'beam', thicknessIn: beam.ply.thicknessIn * beam.plies, angleDeg: 90 }),
        woodMember(pack.stud, { name: 'king' }),
      ],
      fastener: pennyNail('common', '8d'),
      method: 'toe',
      driven: 'both sides',
      pattern: { kind: 'count', count: 4, rows: 2, spacingIn: 3, rowSpacingIn: 1, staggered: false },
      edgeDistanceIn: 2,
      endDistanceIn: toeStartIn(2.5),
      demand: {
        per: 'none',
        durationFactor: 1,
        combination: '',
        source: 'The beam stands on the jacks; these nails keep its end from rolling.',
      },
      basis: { kind: 'prescriptive' },
      prescriptiveItem: 'continuous header to stud',
    }),
  ];
}

/** The seat: a cap or strap where wind lifts the beam, else toe-nails that keep it in place. */
export function proposeBeamSeat(context: FasteningContext, pack: PackFastening): readonly FasteningRow[] {
  const { beam } = context;
  if (beam === undefined) return [];
  const beamMember = woodMember(beam.ply, {
    name: 'beam',
    thicknessIn: beam.ply.thicknessIn * beam.plies,
    angleDeg: 90,
  });
  const common = {
    id: `beam-seat-${pack.end}`,
    joint: 'beam seat',
    where: `${label(pack.end)} end of beam on the jacks`,
  } as const;
  if (pack.upliftLb > 0) {
    return [
      makeRow(context, {
        ...common,
        members: [steelMember('cap or strap', CONNECTOR_STEEL_IN, 3), beamMember],
        fastener: pennyNail('common', '10d'),
        pattern: {
          kind: 'count',
          count: pack.seatListing?.nailsRequired ?? 8,
          rows: 2,
          spacingIn: 1.5,
          rowSpacingIn: 1.5,
          staggered: false,
        },
        demand: {
          per: 'connector',
          downLb: 0,
          upLb: pack.upliftLb,
          durationFactor: WIND_DURATION_FACTOR,
          combination: '0.6 D + 0.6 W',
          source: `Net uplift at the ${pack.end} end of the beam; the strap must go on down to what holds it.`,
        },
        basis: { kind: 'listing', ...(pack.seatListing === undefined ? {} : { listing: pack.seatListing }) },
      }),
    ];
  }
  return [
    makeRow(context, {
      ...common,
      members: [beamMember, woodMember(pack.stud, { name: 'jack', thicknessIn: 12 })],
      fastener: pennyNail('common', '8d'),
      method: 'toe',
      driven: 'both sides',
      pattern: { kind: 'count', count: 4, rows: 2, spacingIn: 1.5, rowSpacingIn: 1, staggered: false },
      edgeDistanceIn: 1,
      endDistanceIn: toeStartIn(2.5),
      demand: {
        per: 'none',
        durationFactor: 1,
        combination: '',
        source: 'No net uplift: the load goes down by bearing, the nails keep the beam in place.',
      },
      basis: { kind: 'prescriptive' },
      prescriptiveItem: 'joist to sill, plate or girder',
    }),
  ];
}

/** Sole plate to concrete: holds the foot of the kings against wind and the pack against uplift. */
export function proposeSolePlateAnchors(
  context: FasteningContext,
  pack: PackFastening,
): readonly FasteningRow[] {
  const { concrete } = pack;
  if (concrete === undefined) return [];
  const embedmentIn = Math.max(concrete.declared?.leastEmbedmentIn ?? 3.5, 3.5);
  const plateIn = pack.plate.thicknessIn;
  return [
    makeRow(context, {
      id: `sole-anchor-${pack.end}`,
      joint: 'sole plate anchor',
      where: `${label(pack.end)} pack, sole plate to concrete`,
      members: [
        woodMember(pack.plate, { name: 'sole plate', angleDeg: 90 }),
        {
          name: 'concrete',
          species: '',
          material: 'concrete',
          thicknessIn: concrete.thicknessIn,
          widthIn: 12,
          angleDeg: 0,
        },
      ],
      fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: plateIn + embedmentIn },
      pattern: { kind: 'count', count: 2, rows: 1, spacingIn: 6, rowSpacingIn: 0, staggered: false },
      edgeDistanceIn: pack.plate.widthIn / 2,
      endDistanceIn: 4,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      prebored: true,
      demand: {
        per: 'joint',
        lateralLb: pack.kingLateralLb,
        withdrawalLb: pack.upliftLb,
        durationFactor: WIND_DURATION_FACTOR,
        combination: '0.6 D + 0.6 W',
        source: `Foot of the pack: wind ${Math.round(pack.kingLateralLb)} lb sideways, uplift ${Math.round(pack.upliftLb)} lb.`,
      },
      basis: {
        kind: 'anchor',
        concreteEdgeIn: concrete.edgeDistanceIn,
        ...(concrete.declared === undefined ? {} : { declared: concrete.declared }),
      },
      note: 'Preservative-treated plate, washers; scan the slab before drilling.',
    }),
  ];
}
