/**
 * What the drawings are made from. Plain data, on purpose not the engine's own shapes: whoever has something
 * to draw fills one of these. Positions run along the wall from the datum, heights run up from the floor;
 * everything in inches.
 */
interface Titled {
  /** Unique on the page; prefix of the element ids inside. */
  readonly id: string;
  readonly title: string;
  /** For people who can't see the picture: what it says, in a sentence or two. */
  readonly description: string;
}

export interface Extent {
  readonly fromIn: number;
  readonly toIn: number;
}

export type LoadKind = 'dead' | 'live' | 'roofLive' | 'snow' | 'wind' | 'uplift' | 'selfWeight';

export type PieceKind = 'jack' | 'king' | 'post' | 'beam' | 'plate' | 'stud' | 'shore' | 'pad' | 'joist';

/** A piece of lumber (or steel, or concrete) seen from the front. */
export interface Piece extends Extent {
  readonly kind: PieceKind;
  readonly bottomIn: number;
  readonly topIn: number;
  readonly label?: string;
}

/** A load along the beam; the two intensities differ for a trapezoid. Uplift is positive upward. */
export interface DrawnLineLoad extends Extent {
  readonly kind: LoadKind;
  readonly label: string;
  readonly startPlf: number;
  readonly endPlf: number;
}

export interface DrawnPointLoad {
  readonly label: string;
  readonly atIn: number;
  readonly parts: readonly { readonly kind: LoadKind; readonly loadLb: number }[];
}

export interface DrawnSupport {
  readonly atIn: number;
  readonly label: string;
  /** Named as the reader knows it: 'D + 0.75 L + 0.75 S: 7,243 lb'. */
  readonly reaction?: string;
}

/** The wall with its opening, the beam if there is one, what it stands on and what stands on it. */
export interface LoadPictureModel extends Titled {
  /** Under the picture: what it can't show. */
  readonly note?: string;
  readonly datum: string;
  readonly wallLengthIn: number;
  readonly wallHeightIn: number;
  readonly opening: Extent;
  readonly beam?: Piece;
  readonly pieces: readonly Piece[];
  readonly lineLoads: readonly DrawnLineLoad[];
  readonly pointLoads: readonly DrawnPointLoad[];
  readonly supports: readonly DrawnSupport[];
}

export interface DiagramPoint {
  readonly atIn: number;
  readonly value: number;
}

export interface DiagramCurve {
  /** Shown where a panel has more than one curve. */
  readonly label: string;
  /** In order of position; two points at one position make a jump. */
  readonly points: readonly DiagramPoint[];
}

export interface DiagramPanel {
  readonly name: 'Shear' | 'Moment' | 'Deflection';
  readonly unit: string;
  /** Deflection is usually counted downward; then a sag is drawn below the line. */
  readonly positiveIs: 'up' | 'down';
  readonly curves: readonly DiagramCurve[];
  /** Where the engine knows the exact extremes; else the highest and lowest of the points are labelled. */
  readonly extremes?: readonly DiagramPoint[];
}

export interface DiagramModel extends Titled {
  readonly lengthIn: number;
  readonly supportsIn: readonly number[];
  readonly panels: readonly DiagramPanel[];
}

export interface DrawnRectangle {
  readonly name: string;
  readonly material: 'wood' | 'steel' | 'concrete';
  readonly xIn: number;
  readonly yIn: number;
  readonly widthIn: number;
  readonly heightIn: number;
}

export interface DrawnFastener {
  readonly xIn: number;
  readonly yIn: number;
  readonly diameterIn: number;
  readonly from: 'near side' | 'far side';
  /** Numbers of the flags it takes part in. */
  readonly violations: readonly number[];
}

export interface DrawnShank {
  readonly headXIn: number;
  readonly headYIn: number;
  readonly tipXIn: number;
  readonly tipYIn: number;
  readonly diameterIn: number;
  /** Depth of the point in the piece that holds it. */
  readonly penetrationIn: number;
  readonly protrudesIn: number;
}

/** A numbered flag; the list under the drawing carries the sentence. */
export interface DrawnFlag {
  readonly number: number;
  readonly view: 'face' | 'section' | 'legend';
  readonly sentence: string;
  readonly kind: 'rule' | 'advice';
  readonly xIn: number;
  readonly yIn: number;
}

export interface DrawnDimension {
  readonly label: string;
  readonly fromXIn: number;
  readonly fromYIn: number;
  readonly toXIn: number;
  readonly toYIn: number;
}

/** Origin at the lower left in both views. `drawPattern` of the fastening schedule fits without a mapper. */
export interface NailingPatternModel extends Titled {
  readonly fastener: string;
  /** Width to draw on, in drawing units; the usual sheet where left out. Narrower: the words are larger beside it. */
  readonly sheetWidth?: number;
  readonly face: {
    readonly widthIn: number;
    readonly heightIn: number;
    readonly members: readonly DrawnRectangle[];
    readonly fasteners: readonly DrawnFastener[];
    readonly dimensions: readonly DrawnDimension[];
    /** The piece goes on to the right of here. */
    readonly cutAtIn?: number;
  };
  readonly section: {
    readonly widthIn: number;
    readonly heightIn: number;
    readonly members: readonly DrawnRectangle[];
    readonly shanks: readonly DrawnShank[];
  };
  readonly violations: readonly DrawnFlag[];
}

export type MarkKind = 'edge' | 'centre' | 'cut';

/** One mark to make on site, at its distance from the datum. */
export interface LayoutMark {
  readonly atIn: number;
  readonly label: string;
  readonly kind: MarkKind;
}

export interface LayoutElevationModel extends Titled {
  readonly datum: string;
  readonly wallLengthIn: number;
  readonly wallHeightIn: number;
  readonly opening: Extent;
  readonly pieces: readonly Piece[];
  readonly marks: readonly LayoutMark[];
}
