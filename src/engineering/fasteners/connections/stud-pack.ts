import { nailLimits } from '../../wood/built-up-fastening.ts';
import { pennyNail, pneumaticNail, type Fastener } from '../dowels/fastener.ts';
import { NAIL_SIZES } from '../dowels/nail-sizes.ts';
import { leastColumnNailIn, whatWouldReach } from '../schedule/judge-built-up-column.ts';
import type { FasteningRow } from '../schedule/row.ts';
import type { FasteningContext, PackFastening } from './context.ts';
import { eighthDown, eighthUp, firstThatPasses, makeRow, woodMember } from './row-maker.ts';

/** The nail that the usual framing gun drives; the sentence about reach speaks of it. */
export const USUAL_GUN_NAIL = pneumaticNail(0.131, 3.25);

const label = (end: 'left' | 'right'): string => (end === 'left' ? 'Left' : 'Right');

function columnNails(thicknesses: readonly number[]): readonly Fastener[] {
  const leastIn = leastColumnNailIn(thicknesses);
  const common = NAIL_SIZES.common
    .filter((size) => size.lengthIn >= leastIn - 1e-9)
    .map((size) => pennyNail('common', size.penny));
  return USUAL_GUN_NAIL.lengthIn >= leastIn ? [USUAL_GUN_NAIL, ...common] : common;
}

/** A pattern inside all bands of NDS 15.3.3.1, if there is one. */
function nailedPack(context: FasteningContext, pack: PackFastening, fastener: Fastener): FasteningRow {
  const { stud, jacks, heightIn } = pack;
  const diameterIn = 'diameterIn' in fastener ? fastener.diameterIn : 0;
  const limits = nailLimits(
    { plies: jacks, plyThicknessIn: stud.thicknessIn, plyDepthIn: stud.widthIn },
    diameterIn,
  );
  const rows = stud.widthIn > 3 * stud.thicknessIn ? (stud.widthIn > 7.5 ? 3 : 2) : 1;
  const widestIn = limits.rowSpacingIn[1] * (rows - 1);
  const edgeDistanceIn =
    rows === 1
      ? eighthUp(Math.max(limits.edgeIn[0], stud.widthIn / 3))
      : eighthUp(Math.max(limits.edgeIn[0], (stud.widthIn - widestIn) / 2));
  return columnRow(context, pack, {
    fastener,
    driven: 'alternating sides',
    pattern: {
      kind: 'spaced',
      lengthIn: heightIn,
      rows,
      // At most 6 t between neighbours of a row; a single staggered row counts along the column.
      spacingIn: eighthDown(Math.max(limits.spacingIn[0] + 0.125, limits.spacingIn[1] - 1)),
      rowSpacingIn: rows === 1 ? 0 : (stud.widthIn - 2 * edgeDistanceIn) / (rows - 1),
      staggered: true,
    },
    edgeDistanceIn,
    endDistanceIn: eighthDown(18 * diameterIn),
  });
}

function boltedPack(context: FasteningContext, pack: PackFastening): FasteningRow {
  const { stud, jacks, heightIn } = pack;
  const diameterIn = 0.5;
  const rows = stud.widthIn > 3 * stud.thicknessIn ? 2 : 1;
  const edgeDistanceIn = rows === 1 ? stud.widthIn / 2 : 1.5;
  return columnRow(context, pack, {
    fastener: { kind: 'bolt', diameterIn, lengthIn: Math.ceil(jacks * stud.thicknessIn + 1) },
    driven: 'one side',
    prebored: true,
    pattern: {
      kind: 'spaced',
      lengthIn: heightIn,
      rows,
      spacingIn: Math.min(8, 6 * stud.thicknessIn),
      rowSpacingIn: rows === 1 ? 0 : stud.widthIn - 2 * edgeDistanceIn,
      staggered: false,
    },
    edgeDistanceIn,
    endDistanceIn: 4,
  });
}

function columnRow(
  context: FasteningContext,
  pack: PackFastening,
  over: Pick<FasteningRow, 'fastener' | 'driven' | 'pattern' | 'edgeDistanceIn' | 'endDistanceIn'> &
    Partial<FasteningRow>,
): FasteningRow {
  return makeRow(context, {
    id: `pack-plies-${pack.end}`,
    joint: 'stud pack plies',
    where: `${label(pack.end)} pack, jacks to one another`,
    members: Array.from({ length: pack.jacks }, (_, index) =>
      woodMember(pack.stud, { name: `jack ${index + 1}` }),
    ),
    demand: {
      per: 'none',
      durationFactor: pack.reactionDurationFactor,
      combination: pack.reactionCombination,
      source: `The pack carries ${Math.round(pack.reactionLb)} lb as one built-up column only if it is fastened by NDS 15.3.`,
    },
    basis: { kind: 'built-up column' },
    prescriptiveItem: 'stud to stud',
    note:
      pack.jacks > 2
        ? `The usual gun nail (3-1/4 × 0.131) can't reach. ${whatWouldReach(Array.from({ length: pack.jacks }, () => pack.stud.thicknessIn))}`.slice(
            0,
            600,
          )
        : '',
    ...over,
  });
}

/** Plies that each stand alone are merely held together: the code's stud-to-stud nailing. */
function looseStuds(context: FasteningContext, pack: PackFastening, which: 'plies' | 'king'): FasteningRow {
  const king = which === 'king';
  return makeRow(context, {
    id: king ? `jack-to-king-${pack.end}` : `pack-plies-${pack.end}`,
    joint: king ? 'jack to king' : 'stud pack plies',
    where: king
      ? `${label(pack.end)} pack, outer jack to king`
      : `${label(pack.end)} pack, jacks to one another`,
    members: king
      ? [woodMember(pack.stud, { name: 'jack' }), woodMember(pack.stud, { name: 'king' })]
      : Array.from({ length: pack.jacks }, (_, index) =>
          woodMember(pack.stud, { name: `jack ${index + 1}` }),
        ),
    layup: 'each to the next',
    fastener: pneumaticNail(0.131, 3),
    pattern: {
      kind: 'spaced',
      lengthIn: pack.heightIn,
      rows: 2,
      spacingIn: 12,
      rowSpacingIn: pack.stud.widthIn - 2,
      staggered: true,
    },
    edgeDistanceIn: 1,
    endDistanceIn: 3,
    demand: {
      per: 'none',
      durationFactor: pack.reactionDurationFactor,
      combination: pack.reactionCombination,
      source: king
        ? 'The beam stands on the jacks; the king takes none of its load and steadies them.'
        : 'Each ply is counted as a column of its own; the nails hold them in line.',
    },
    basis: { kind: 'prescriptive' },
    prescriptiveItem: 'stud to stud',
  });
}

/** Jacks to one another: a qualifying built-up column where the design counts on one, else held in line. */
export function proposePackPlies(context: FasteningContext, pack: PackFastening): readonly FasteningRow[] {
  if (pack.jacks < 2) return [];
  if (!pack.countedAsOneColumn) return [looseStuds(context, pack, 'plies')];
  const thicknesses = Array.from({ length: pack.jacks }, () => pack.stud.thicknessIn);
  const candidates = columnNails(thicknesses).map((nail) => nailedPack(context, pack, nail));
  return [firstThatPasses([...candidates, boltedPack(context, pack)], context.editions)];
}

/** Jack to king; where kings share the reaction, their share must cross into them over the height. */
export function proposeJackToKing(context: FasteningContext, pack: PackFastening): readonly FasteningRow[] {
  if (pack.kings < 1) return [];
  const loose = looseStuds(context, pack, 'king');
  if (pack.kingsThatCarry === 0) return [loose];
  const share = pack.kingsThatCarry / (pack.jacks + pack.kingsThatCarry);
  const crossingLb = pack.reactionLb * share;
  const carrying: FasteningRow = {
    ...loose,
    basis: { kind: 'yield limit', shear: 'single' },
    demand: {
      per: 'foot',
      lateralPlf: crossingLb / (pack.heightIn / 12),
      withdrawalPlf: 0,
      durationFactor: pack.reactionDurationFactor,
      combination: pack.reactionCombination,
      source: `The design lets ${pack.kingsThatCarry} king(s) carry a share: ${Math.round(crossingLb)} lb must cross over the height of the jack.`,
    },
  };
  const candidates = [12, 8, 6, 4, 3].map((spacingIn): FasteningRow => ({
    ...carrying,
    pattern: { ...carrying.pattern, spacingIn },
  }));
  return [firstThatPasses(candidates, context.editions)];
}
