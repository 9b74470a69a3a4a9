import type { Fastener } from '../fasteners/dowels/fastener.ts';
import type { Lift } from '../layout/index.ts';
import type { Notice } from '../trace/index.ts';
import type { Goods, MaterialStep } from './called-for.ts';

/**
 * What an opening needs before it is cut from sticks and put into boxes. `sources` name the items of the proposal:
 * 'beam', 'support:left', 'footing:right', 'shoring', 'fastening:N1', 'hanger:H1'.
 */
export interface OpeningNeeds {
  /** Pieces that come one from each stick, to their own length: the beam. */
  readonly whole: readonly WholeNeed[];
  readonly lumber: readonly LumberNeed[];
  readonly concrete: readonly ConcreteNeed[];
  readonly fasteners: readonly FastenerNeed[];
  readonly hangers: readonly HangerNeed[];
  readonly lifts: readonly Lift[];
  readonly notices: readonly Notice[];
  readonly unlisted: readonly Unlisted[];
}

/** What is needed and can't be ordered as the proposal says it: why, and what to change, as a sentence. */
export interface Unlisted {
  readonly step: MaterialStep;
  readonly sources: readonly string[];
  readonly text: string;
}

interface Need {
  readonly step: MaterialStep;
  readonly sources: readonly string[];
}

export interface WholeNeed extends Need {
  readonly goods: Goods & { readonly lengthIn: number };
  readonly label: string;
  readonly pieces: number;
  readonly lengthIn: number;
  readonly weightPlf: number;
}

export interface LumberNeed extends Need {
  readonly species: string;
  readonly grade: string;
  readonly size: string;
  readonly treated: boolean;
  readonly label: string;
  readonly weightPlf: number;
  readonly cutsIn: readonly number[];
}

export interface ConcreteNeed extends Need {
  readonly strengthPsi: number;
  readonly volumeFt3: number;
}

export interface FastenerNeed extends Need {
  readonly fastener: Fastener;
  readonly count: number;
  /** How the count comes about: 'N1: 22 in the pattern × 2 faces between plies'. */
  readonly reckoning: string;
}

export interface HangerNeed extends Need {
  readonly joistSize: string;
  readonly listing: string;
  readonly count: number;
  readonly reckoning: string;
}
