import type { Step } from '../trace/step.ts';

/**
 * Kinds of load kept apart through the whole chain (ASCE 7 2.2): dead, floor or attic live, roof live, snow,
 * wind. Loads act downward; wind uplift is therefore negative.
 */
export const LOAD_KINDS = ['D', 'L', 'Lr', 'S', 'W'] as const;
export type LoadKind = (typeof LOAD_KINDS)[number];

/** Snow lies on the roof in one of these ways at a time (ASCE 7 7.4, 7.6); other kinds have no case. */
export const SNOW_CASES = ['balanced', 'front leeward', 'rear leeward'] as const;
export type SnowCase = (typeof SNOW_CASES)[number];

export interface LoadSource {
  readonly kind: 'strip' | 'wall above' | 'brace' | 'landing' | 'member';
  /** The id of the survey's entry; 'self-weight' for the member itself. */
  readonly id: string;
}

interface LoadBase {
  readonly source: LoadSource;
  /** The surveyor's own words for the source. */
  readonly label: string;
  readonly kind: LoadKind;
  /** Present for S, absent for every other kind. */
  readonly snowCase?: SnowCase;
  readonly steps: readonly Step[];
}

/** Uniform over an interval, plf, downward positive. */
export interface LineLoad extends LoadBase {
  readonly form: 'line';
  readonly fromIn: number;
  readonly toIn: number;
  readonly loadPlf: number;
}

/** At one place, lb, downward positive. */
export interface PointLoad extends LoadBase {
  readonly form: 'point';
  readonly positionIn: number;
  readonly loadLb: number;
}

export type Load = LineLoad | PointLoad;

export function isZero(load: Load): boolean {
  return (load.form === 'line' ? load.loadPlf : load.loadLb) === 0;
}
