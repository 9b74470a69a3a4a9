import { positive } from '../../trace/index.ts';

/** How the member is loaded where the bolts are. */
export type EndLoading = 'tension' | 'compression' | 'across grain';

/** Distances in multiples of D: what CΔ = 1 needs, and the least that is allowed at all. */
export interface DistanceRule {
  readonly least: number;
  readonly full: number;
  readonly section: string;
}

/** End distance (NDS Table 12.5.1A): softwood 7 D in tension, 4 D in compression or across the grain. */
export function endDistanceRule(loading: EndLoading): DistanceRule {
  switch (loading) {
    case 'tension':
      return { least: 3.5, full: 7, section: 'Table 12.5.1A' };
    case 'compression':
    case 'across grain':
      return { least: 2, full: 4, section: 'Table 12.5.1A' };
  }
}

/** Spacing of fasteners in a row (NDS Table 12.5.1B): 3 D least, 4 D full value. */
export const SPACING_IN_ROW_RULE: DistanceRule = { least: 3, full: 4, section: 'Table 12.5.1B' };

/**
 * Least edge distance, multiples of D (NDS Table 12.5.1C); no factor, a plain minimum.
 * @param slenderness l ÷ D, the lesser of lm/D and ls/D
 * @param rowSpacingIn only counts along the grain where l/D exceeds 6
 */
export function edgeDistanceMultiple(
  loading: EndLoading,
  loadedEdge: boolean,
  slenderness: number,
  rowSpacingIn: number,
  diameterIn: number,
): number {
  if (loading === 'across grain') return loadedEdge ? 4 : 1.5;
  return slenderness <= 6 ? 1.5 : Math.max(1.5, rowSpacingIn / 2 / diameterIn);
}

/**
 * Least spacing between rows, multiples of D (NDS Table 12.5.1D): 1.5 D along the grain; across it 2.5 D at
 * l/D ≤ 2, (5 l + 10 D)/8 between, 5 D from l/D 6.
 */
export function rowSpacingMultiple(loading: EndLoading, slenderness: number): number {
  if (loading !== 'across grain') return 1.5;
  if (slenderness <= 2) return 2.5;
  return slenderness < 6 ? (5 * slenderness + 10) / 8 : 5;
}

/** Outer rows along the grain at most 5 in apart in one piece, unless shrinkage is provided for (NDS 12.5.1.3). */
export const WIDEST_ROWS_ALONG_GRAIN_IN = 5;

/**
 * CΔ for one distance: actual ÷ full, at most 1, zero below the least (NDS 12.5.1.2).
 */
export function distanceFactor(actualIn: number, rule: DistanceRule, diameterIn: number): number {
  const multiple = actualIn / positive(diameterIn, 'diameterIn');
  if (multiple < rule.least * (1 - 1e-9)) return 0;
  return Math.min(1, multiple / rule.full);
}
