import { positive, refuseUnless } from '../../trace/index.ts';
import { pennyNail, type Fastener } from '../dowels/fastener.ts';
import type { FasteningRow } from '../schedule/row.ts';
import type { BraceFoot, FasteningContext, ShoringFastening } from './context.ts';
import { STRAP_NAIL } from './joists.ts';
import { firstThatPasses, makeRow, steelMember, woodMember } from './row-maker.ts';

/** 16 gauge × 1-1/2 in over a plate cut by more than half its width (IRC R602.6.1). */
const PLATE_STRAP_IN = { thicknessIn: 0.054, widthIn: 1.5 } as const;

/** The top plate made whole across the cut: a lap of the double plate (R602.3.2) or a strap (R602.6.1). */
export function proposeTopPlate(context: FasteningContext): readonly FasteningRow[] {
  const { topPlate } = context;
  if (topPlate === undefined) return [];
  const { plate, chordLb, durationFactor } = topPlate;
  const strap = topPlate.closedBy === 'strap';
  const counts = strap ? [8, 10, 12, 14, 16] : [8, 10, 12, 16, 20];
  const demand: FasteningRow['demand'] =
    chordLb > 0
      ? {
          per: 'joint',
          lateralLb: chordLb,
          withdrawalLb: 0,
          durationFactor,
          combination: 'W or E',
          source: 'Chord or drag force in the top plate, as entered.',
        }
      : {
          per: 'none',
          durationFactor,
          combination: '',
          source: 'No chord force is computed: the plate is made whole as the code prescribes.',
        };
  const basis: FasteningRow['basis'] =
    chordLb > 0 ? { kind: 'yield limit', shear: 'single' } : { kind: 'prescriptive' };
  const candidates = counts.map((count) =>
    strap
      ? makeRow(context, {
          id: 'top-plate',
          joint: 'top plate strap',
          where: 'Strap over the cut top plate, each side of the cut',
          members: [
            steelMember('16 gauge strap', PLATE_STRAP_IN.thicknessIn, PLATE_STRAP_IN.widthIn),
            woodMember(plate),
          ],
          fastener: STRAP_NAIL,
          pattern: { kind: 'count', count, rows: 1, spacingIn: 1.5, rowSpacingIn: 0, staggered: true },
          edgeDistanceIn: 0.5,
          endDistanceIn: 2.5,
          endLoading: 'tension',
          demand,
          basis,
          prescriptiveItem: 'top plate strap',
          note: 'The strap reaches 6 in or more past the cut.',
        })
      : makeRow(context, {
          id: 'top-plate',
          joint: 'top plate splice',
          where: 'Lap of the double top plate, each side of the end joint',
          members: [woodMember(plate, { name: 'upper plate' }), woodMember(plate, { name: 'lower plate' })],
          fastener: pennyNail('common', '16d'),
          pattern: {
            kind: 'count',
            count,
            rows: 2,
            spacingIn: Math.max(2.5, 24 / (count / 2)),
            rowSpacingIn: plate.widthIn - 2,
            staggered: true,
          },
          edgeDistanceIn: 1,
          endDistanceIn: 2.5,
          endLoading: 'tension',
          demand,
          basis,
          prescriptiveItem: 'top plate splice',
          note: 'Lap 24 in or more (IRC R602.3.2).',
        }),
  );
  return [firstThatPasses(candidates, context.editions)];
}

/** Sideways push at a brace's foot, lb: V ÷ tan of its angle from the horizontal. */
export function braceThrustLb(foot: Pick<BraceFoot, 'verticalLb' | 'angleDeg'>): number {
  positive(foot.verticalLb, 'braces.verticalLb');
  refuseUnless(
    Number.isFinite(foot.angleDeg) && foot.angleDeg > 0 && foot.angleDeg <= 90,
    'braces.angleDeg',
    'A brace stands between 0 and 90 degrees from the horizontal (IRC R802.4.5 wants 45 or more).',
  );
  return foot.angleDeg === 90 ? 0 : foot.verticalLb / Math.tan((foot.angleDeg * Math.PI) / 180);
}

/**
 * Foot of a roof brace: the load bears, the sideways push goes into a block face-nailed behind the foot;
 * toe-nails alone hardly ever carry it.
 */
export function proposeBraceFoot(context: FasteningContext, foot: BraceFoot): readonly FasteningRow[] {
  const thrustLb = braceThrustLb(foot);
  const candidates = [3, 4, 5, 6, 8, 10, 12].map((count) =>
    makeRow(context, {
      id: `brace-foot-${foot.id}`.slice(0, 41),
      joint: 'brace foot',
      where: `${foot.label}: block behind the foot`,
      members: [woodMember(foot.brace, { name: 'block' }), woodMember(foot.onto)],
      fastener: pennyNail('common', '16d'),
      pattern: {
        kind: 'count',
        count,
        rows: 2,
        spacingIn: 2.5,
        rowSpacingIn: foot.brace.widthIn - 2,
        staggered: true,
      },
      edgeDistanceIn: 1,
      endDistanceIn: 2.5,
      endLoading: 'compression',
      demand:
        thrustLb > 1e-9
          ? {
              per: 'joint',
              lateralLb: thrustLb,
              withdrawalLb: 0,
              durationFactor: foot.durationFactor,
              combination: foot.combination,
              source: `Sideways push V / tan θ of ${Math.round(foot.verticalLb)} lb at ${foot.angleDeg}°; the vertical load bears.`,
            }
          : { per: 'none', durationFactor: 1, combination: '', source: 'An upright brace pushes nowhere.' },
      basis: { kind: 'yield limit', shear: 'single' },
      note: 'Toe-nail the brace itself with 3 of 16d common to keep it in place.',
    }),
  );
  return [firstThatPasses(candidates, context.editions)];
}

/** Sideways force at the end of a shore that its fastening must be good for: 2 % of its load (common practice). */
export const SHORE_SIDEWAYS_SHARE = 0.02;
const SHORE_EDGE_IN = 0.75;
/** Construction load of a week (NDS Table 2.3.2: seven days 1.25). */
const SHORING_DURATION_FACTOR = 1.25;

function shoringFasteners(choice: ShoringFastening['fastener']): readonly Fastener[] {
  return choice === 'duplex nails'
    ? // Length to the lower head (16d duplex 3 × 0.162, 8d duplex 2-1/4 × 0.131; ASTM F1667, from memory).
      [{ kind: 'nail', style: 'duplex', diameterIn: 0.162, lengthIn: 3 }]
    : [{ kind: 'wood screw', gauge: 10, lengthIn: 3 }];
}

/** Studs of the temporary wall through the plate into their ends, so that they can't be kicked out. */
export function proposeShoring(context: FasteningContext): readonly FasteningRow[] {
  const { shoring } = context;
  if (shoring === undefined) return [];
  const candidates = shoringFasteners(shoring.fastener).flatMap((fastener) =>
    [2, 3].map((count) =>
      makeRow(context, {
        id: 'shoring-studs',
        joint: 'shoring',
        where: 'Temporary wall, plate to each stud, top and bottom',
        members: [
          woodMember(shoring.plate, { angleDeg: 90 }),
          // Through the end of the stud: as much wood as the fastener is long.
          woodMember(shoring.stud, { thicknessIn: 24, angleDeg: 90 }),
        ],
        fastener,
        method: 'end',
        // Side by side across the plate.
        pattern: {
          kind: 'count',
          count,
          rows: count,
          spacingIn: 1,
          rowSpacingIn: (shoring.plate.widthIn - 2 * SHORE_EDGE_IN) / (count - 1),
          staggered: false,
        },
        edgeDistanceIn: SHORE_EDGE_IN,
        // The plate runs on past the stud.
        endDistanceIn: 6,
        prebored: fastener.kind === 'wood screw',
        demand: {
          per: 'joint',
          lateralLb: shoring.studLoadLb * SHORE_SIDEWAYS_SHARE,
          withdrawalLb: 0,
          durationFactor: SHORING_DURATION_FACTOR,
          combination: 'temporary',
          source: `2 % of the ${Math.round(shoring.studLoadLb)} lb in a stud, sideways at its ends (common practice); the load itself bears.`,
        },
        basis: { kind: 'yield limit', shear: 'single' },
        note: 'Temporary: double heads or screws, drawn when the engineer releases the shoring.',
      }),
    ),
  );
  return [firstThatPasses(candidates, context.editions)];
}
