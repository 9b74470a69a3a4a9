import type { Editions } from '../../trace/index.ts';
import type { ServiceConditions } from '../adjustments/service-factors.ts';
import type { RafterPair } from '../heel-joint.ts';
import type { DeclaredAnchor, Listing } from '../schedule/row.ts';

/**
 * What the proposal of fastening rows needs to know of one opening. Plain figures: whoever computed the beam,
 * the packs and the loads fills it in, so that this folder depends on none of them.
 */
export interface WoodPiece {
  /** 'LVL 2.0E ply', 'jack 2x6'. */
  readonly name: string;
  /** As stamped; for composites the class. */
  readonly species: string;
  /** Assigned G, or the equivalent G of the composite's report. */
  readonly specificGravity: number;
  /** Measured, in. */
  readonly thicknessIn: number;
  readonly widthIn: number;
  readonly ePsi: number;
}

/** What hangs on one face of the beam, plf, in the combination that governs the fastening. */
export interface FaceLoad {
  readonly totalPlf: number;
  /** The part that is always there. */
  readonly deadPlf: number;
}

export interface BeamFastening {
  readonly ply: WoodPiece;
  readonly plies: number;
  readonly lengthIn: number;
  readonly front: FaceLoad;
  readonly rear: FaceLoad;
  /** On top, shared by all plies at once. */
  readonly topPlf: number;
  readonly durationFactor: number;
  readonly combination: string;
}

export interface PackFastening {
  readonly end: 'left' | 'right';
  readonly stud: WoodPiece;
  readonly plate: WoodPiece;
  readonly jacks: number;
  readonly kings: number;
  /** Does the design count the jacks as one built-up column (Kf), or each ply alone? */
  readonly countedAsOneColumn: boolean;
  /** Kings that share the beam's reaction; usually none, as the beam does not stand on them. */
  readonly kingsThatCarry: number;
  readonly heightIn: number;
  /** Largest reaction, lb, and its combination. */
  readonly reactionLb: number;
  readonly reactionDurationFactor: number;
  readonly reactionCombination: string;
  /** Net uplift at this end, lb, allowable-stress level. */
  readonly upliftLb: number;
  /** Wind reaction of the kings at top and bottom, lb; zero for interior walls. */
  readonly kingLateralLb: number;
  readonly seatListing?: Listing;
  /** Slab or footing under the plate; omitted: the plate stands on framing. */
  readonly concrete?: {
    readonly thicknessIn: number;
    readonly edgeDistanceIn: number;
    readonly declared?: DeclaredAnchor;
  };
}

/** One line of hangers, all alike. */
export interface HangerLine {
  readonly side: 'front' | 'rear';
  readonly joist: WoodPiece;
  readonly downLb: number;
  readonly upLb: number;
  readonly durationFactor: number;
  readonly combination: string;
  readonly listing?: Listing;
}

/** Ceiling joists that tie the rafters and are cut at the beam. */
export interface TieLine {
  readonly joist: WoodPiece;
  readonly rafters: RafterPair;
  /** A strap over the beam at every so many inches. */
  readonly strapEveryIn: number;
  readonly strapThicknessIn: number;
  readonly strapWidthIn: number;
  readonly durationFactor: number;
  readonly combination: string;
}

export interface TopPlateCut {
  readonly plate: WoodPiece;
  /** Chord or drag force in the plate, lb; zero where none is computed. */
  readonly chordLb: number;
  readonly durationFactor: number;
  /** Is a splice lap of the double plate at hand, or a strap over the cut? */
  readonly closedBy: 'splice' | 'strap';
}

export interface BraceFoot {
  readonly id: string;
  readonly label: string;
  readonly brace: WoodPiece;
  readonly onto: WoodPiece;
  /** Vertical load at the foot, lb. */
  readonly verticalLb: number;
  /** From the horizontal. */
  readonly angleDeg: number;
  readonly durationFactor: number;
  readonly combination: string;
}

export interface ShoringFastening {
  readonly stud: WoodPiece;
  readonly plate: WoodPiece;
  readonly studLoadLb: number;
  /** Duplex nails pull out clean, screws back out: both leave the lumber whole. */
  readonly fastener: 'duplex nails' | 'screws';
}

export interface FasteningContext {
  readonly editions: Editions;
  readonly conditions: ServiceConditions;
  readonly beam?: BeamFastening;
  readonly packs: readonly PackFastening[];
  readonly hangers: readonly HangerLine[];
  readonly ties?: TieLine;
  readonly topPlate?: TopPlateCut;
  readonly braces: readonly BraceFoot[];
  readonly shoring?: ShoringFastening;
}
