import { qty } from '../trace/quantity.ts';
import { positive, refuseUnless } from '../trace/refusal.ts';
import { type Check, makeCheck } from '../trace/step.ts';
import { nds, type NdsEdition } from './clauses.ts';

/**
 * What makes plies a built-up column: the nailing of NDS 15.3.3 (seen) or the bolting of NDS 15.3.4 (from
 * memory). Where one rule is not met, Kf may not be used and each ply stands alone.
 */
export interface BuiltUpPack {
  readonly plies: number;
  readonly plyThicknessIn: number;
  /** Wide face of a ply. */
  readonly plyDepthIn: number;
}

export interface FastenerPattern {
  readonly rows: number;
  /** Between fasteners in a row, along the column. */
  readonly spacingIn: number;
  /** Between rows; needed from two rows on. */
  readonly rowSpacingIn?: number;
  /** From the end of the column to the first fastener. */
  readonly endDistanceIn: number;
  readonly edgeDistanceIn: number;
  /** Neighbours in a single row, or across three or more rows, are staggered. */
  readonly staggered: boolean;
}

export interface BuiltUpNailing extends FastenerPattern {
  readonly diameterIn: number;
  readonly lengthIn: number;
  /** Neighbouring nails come from opposite faces. */
  readonly oppositeFaces: boolean;
}

export interface BuiltUpBolting extends FastenerPattern {
  readonly diameterIn: number;
  /** A plate or washer between wood and both head and nut, drawn tight. */
  readonly washers: boolean;
}

interface Limits {
  readonly section: string;
  readonly endIn: readonly [number, number];
  readonly spacingIn: readonly [number, number];
  readonly rowSpacingIn: readonly [number, number];
  readonly edgeIn: readonly [number, number];
}

/** Shortest nail, in: through every ply but the last, and three quarters into that (NDS 15.3.3.1 b). */
export function shortestNailIn(pack: BuiltUpPack): number {
  return (pack.plies - 0.25) * pack.plyThicknessIn;
}

/** Two rows at least where the ply is wider than three thicknesses (NDS 15.3.3.1 g, 15.3.4.1 g). */
export function fewestRows(pack: BuiltUpPack): number {
  return pack.plyDepthIn > 3 * pack.plyThicknessIn ? 2 : 1;
}

/** Distances allowed for nails of a diameter, NDS 15.3.3.1 c–f: multiples of D, 6 t along the row. */
export function nailLimits(pack: BuiltUpPack, diameterIn: number): Limits {
  return {
    section: '15.3.3',
    endIn: [15 * diameterIn, 18 * diameterIn],
    spacingIn: [20 * diameterIn, 6 * pack.plyThicknessIn],
    rowSpacingIn: [10 * diameterIn, 20 * diameterIn],
    edgeIn: [5 * diameterIn, 20 * diameterIn],
  };
}

/** Distances allowed for bolts in softwood, NDS 15.3.4.1 c–f (from memory). */
export function boltLimits(pack: BuiltUpPack, diameterIn: number): Limits {
  return {
    section: '15.3.4',
    endIn: [7 * diameterIn, 8.4 * diameterIn],
    spacingIn: [4 * diameterIn, 6 * pack.plyThicknessIn],
    rowSpacingIn: [1.5 * diameterIn, 10 * diameterIn],
    edgeIn: [1.5 * diameterIn, 10 * diameterIn],
  };
}

/**
 * The rules of NDS 15.3.3 for a nailed built-up column, one check each; all pass: it qualifies (Kf 0.6).
 * @throws Refusal for a pack or a nail that can't be.
 */
export function checkBuiltUpNailing(
  id: string,
  edition: NdsEdition,
  pack: BuiltUpPack,
  nailing: BuiltUpNailing,
): Check[] {
  validatePattern(pack, nailing, nailing.diameterIn);
  positive(nailing.lengthIn, 'nailing.lengthIn');
  const clause = nds(edition, '15.3.3');
  const shortest = shortestNailIn(pack);
  return [
    makeCheck({
      id: `${id}.length`,
      title: 'Nail length',
      clause,
      demand: qty(shortest, 'in'),
      capacity: qty(nailing.lengthIn, 'in'),
      sentence: (passes) =>
        passes
          ? 'The nails reach three quarters into the last ply.'
          : 'The nails must pass all plies and reach three quarters into the last: longer nails, or bolts.',
    }),
    yes(`${id}.faces`, 'Nails from opposite faces', clause, nailing.oppositeFaces, {
      met: 'Neighbouring nails come from opposite faces.',
      missed: 'Neighbouring nails must come from opposite faces of the column.',
    }),
    ...patternChecks(id, edition, pack, nailing, nailLimits(pack, nailing.diameterIn)),
    yes(`${id}.stagger`, 'Stagger', clause, isStaggeredEnough(nailing), {
      met: 'The nails are staggered where they must be.',
      missed: 'Nails in a single row, and neighbours across three or more rows, are staggered.',
    }),
  ];
}

/** NDS 15.3.3.2: one row and three or more rows are staggered; two rows need not be. */
function isStaggeredEnough(pattern: FastenerPattern): boolean {
  return pattern.rows === 2 || pattern.staggered;
}

/**
 * The rules of NDS 15.3.4 for a bolted built-up column, one check each; all pass: it qualifies (Kf 0.75).
 * @throws Refusal for a pack or a bolt that can't be.
 */
export function checkBuiltUpBolting(
  id: string,
  edition: NdsEdition,
  pack: BuiltUpPack,
  bolting: BuiltUpBolting,
): Check[] {
  validatePattern(pack, bolting, bolting.diameterIn);
  return [
    yes(`${id}.washers`, 'Washers', nds(edition, '15.3.4'), bolting.washers, {
      met: 'A plate or washer lies under every head and nut.',
      missed: 'Put a plate or washer under every head and nut and draw the bolts tight.',
    }),
    ...patternChecks(id, edition, pack, bolting, boltLimits(pack, bolting.diameterIn)),
  ];
}

/** Do all rules hold? */
export function qualifies(checks: readonly Check[]): boolean {
  return checks.every((check) => check.passes);
}

function validatePattern(pack: BuiltUpPack, pattern: FastenerPattern, diameterIn: number): void {
  refuseUnless(
    Number.isInteger(pack.plies) && pack.plies >= 2 && pack.plies <= 5,
    'plies',
    'A built-up column has two to five plies (NDS 15.3.1).',
  );
  refuseUnless(
    pack.plyThicknessIn >= 1.5,
    'plyThicknessIn',
    'Each ply of a built-up column is 1-1/2 in or more thick (NDS 15.3.1).',
  );
  positive(pack.plyDepthIn, 'plyDepthIn');
  positive(diameterIn, 'diameterIn');
  refuseUnless(
    Number.isInteger(pattern.rows) && pattern.rows >= 1,
    'rows',
    'The number of rows is a whole number, 1 or more.',
  );
  positive(pattern.spacingIn, 'spacingIn');
  positive(pattern.endDistanceIn, 'endDistanceIn');
  positive(pattern.edgeDistanceIn, 'edgeDistanceIn');
  refuseUnless(
    pattern.rows === 1 || pattern.rowSpacingIn !== undefined,
    'rowSpacingIn',
    'Say how far apart the rows are.',
  );
}

function patternChecks(
  id: string,
  edition: NdsEdition,
  pack: BuiltUpPack,
  pattern: FastenerPattern,
  limits: Limits,
): Check[] {
  const clause = nds(edition, limits.section);
  const rows = fewestRows(pack);
  const checks = [
    makeCheck({
      id: `${id}.rows`,
      title: 'Rows',
      clause,
      demand: qty(rows, 'each'),
      capacity: qty(pattern.rows, 'each'),
      sentence: (passes) =>
        passes
          ? 'There are rows enough for the width of the plies.'
          : 'Plies wider than three thicknesses take two rows or more.',
    }),
    ...between(id, 'end', 'End distance', clause, pattern.endDistanceIn, limits.endIn),
    ...between(id, 'spacing', 'Spacing in a row', clause, pattern.spacingIn, limits.spacingIn),
    ...between(id, 'edge', 'Edge distance', clause, pattern.edgeDistanceIn, limits.edgeIn),
  ];
  if (pattern.rowSpacingIn !== undefined) {
    checks.push(
      ...between(id, 'rowSpacing', 'Row spacing', clause, pattern.rowSpacingIn, limits.rowSpacingIn),
    );
  }
  return checks;
}

/** A distance between a least and a most: two checks. */
function between(
  id: string,
  key: string,
  title: string,
  clause: Check['clause'],
  valueIn: number,
  [leastIn, mostIn]: readonly [number, number],
): Check[] {
  return [
    makeCheck({
      id: `${id}.${key}.least`,
      title: `${title}, least`,
      clause,
      demand: qty(leastIn, 'in'),
      capacity: qty(valueIn, 'in'),
    }),
    makeCheck({
      id: `${id}.${key}.most`,
      title: `${title}, most`,
      clause,
      demand: qty(valueIn, 'in'),
      capacity: qty(mostIn, 'in'),
    }),
  ];
}

function yes(
  id: string,
  title: string,
  clause: Check['clause'],
  met: boolean,
  sentences: { readonly met: string; readonly missed: string },
): Check {
  return makeCheck({
    id,
    title,
    clause,
    demand: qty(1, 'each'),
    capacity: qty(met ? 1 : 0, 'each'),
    sentence: (passes) => (passes ? sentences.met : sentences.missed),
  });
}
