import { positive, refuseUnless } from '../trace/refusal.ts';

/**
 * Nominal and dressed sizes of sawn lumber.
 *
 * Source: NDS Supplement 2018, Table 1A (dimension lumber, dry dressed: seen in a public finite element
 * library's copy of the table; timbers: from memory). Timbers 5 in and thicker are taken 1/2 in under
 * nominal, the size they are dressed to green and the one Table 1B lists. Timbers dressed dry may be 3/4 in
 * under from 7 in on: measure the piece and declare it where that matters.
 */
export type SizeClass = 'dimension' | 'posts and timbers' | 'beams and stringers';

export interface SawnSize {
  /** '2x10'. */
  readonly name: string;
  readonly nominalThicknessIn: number;
  readonly nominalWidthIn: number;
  /** Dressed. */
  readonly thicknessIn: number;
  readonly widthIn: number;
  readonly sizeClass: SizeClass;
}

const DIMENSION_DRESSED_IN: Readonly<Record<number, number>> = {
  2: 1.5,
  3: 2.5,
  4: 3.5,
  5: 4.5,
  6: 5.5,
  8: 7.25,
  10: 9.25,
  12: 11.25,
  14: 13.25,
  16: 15.25,
};

const DIMENSION_THICKNESSES = [2, 3, 4];
const TIMBER_NOMINALS = [5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24];
const TIMBER_UNDER_NOMINAL_IN = 0.5;
/** NDS 4.1.3: a timber up to 2 in wider than thick is graded as a post, a wider one as a beam. */
const POST_WIDER_BY_IN = 2;

/**
 * The dressed size behind a nominal name.
 *
 * @param name '2x10', '4x12', '6x10': thickness first, the smaller number.
 * @param path field to name in a refusal.
 * @throws Refusal for a size that is not sawn as structural lumber.
 */
export function sawnSize(name: string, path = 'size'): SawnSize {
  const size = SIZES.get(name);
  refuseUnless(size !== undefined, path, `${name} is not a size of structural lumber (2x4, 4x12, 6x10 …).`);
  return size;
}

function dimensionSize(nominalThicknessIn: number, nominalWidthIn: number): SawnSize {
  return {
    name: `${nominalThicknessIn}x${nominalWidthIn}`,
    nominalThicknessIn,
    nominalWidthIn,
    thicknessIn: DIMENSION_DRESSED_IN[nominalThicknessIn] ?? NaN,
    widthIn: DIMENSION_DRESSED_IN[nominalWidthIn] ?? NaN,
    sizeClass: 'dimension',
  };
}

function timberSize(nominalThicknessIn: number, nominalWidthIn: number): SawnSize {
  const wider = nominalWidthIn - nominalThicknessIn;
  return {
    name: `${nominalThicknessIn}x${nominalWidthIn}`,
    nominalThicknessIn,
    nominalWidthIn,
    thicknessIn: nominalThicknessIn - TIMBER_UNDER_NOMINAL_IN,
    widthIn: nominalWidthIn - TIMBER_UNDER_NOMINAL_IN,
    sizeClass: wider > POST_WIDER_BY_IN ? 'beams and stringers' : 'posts and timbers',
  };
}

/** Every size the engine holds, thin before thick, shallow before deep. */
export const SAWN_SIZES: readonly SawnSize[] = [
  ...DIMENSION_THICKNESSES.flatMap((thickness) =>
    Object.keys(DIMENSION_DRESSED_IN)
      .map(Number)
      .filter((width) => width >= thickness)
      .map((width) => dimensionSize(thickness, width)),
  ),
  ...TIMBER_NOMINALS.flatMap((thickness) =>
    TIMBER_NOMINALS.filter((width) => width >= thickness).map((width) => timberSize(thickness, width)),
  ),
];

const SIZES: ReadonlyMap<string, SawnSize> = new Map(SAWN_SIZES.map((size) => [size.name, size]));

export interface SectionProperties {
  readonly areaIn2: number;
  readonly sectionModulusIn3: number;
  readonly momentOfInertiaIn4: number;
}

/**
 * A solid rectangle bent about its strong axis (NDS Supplement 3.1; mechanics).
 *
 * @param breadthIn across the axis of bending, all plies together.
 * @param depthIn in the direction of the load.
 */
export function rectangle(breadthIn: number, depthIn: number): SectionProperties {
  positive(breadthIn, 'breadthIn');
  positive(depthIn, 'depthIn');
  return {
    areaIn2: breadthIn * depthIn,
    sectionModulusIn3: (breadthIn * depthIn ** 2) / 6,
    momentOfInertiaIn4: (breadthIn * depthIn ** 3) / 12,
  };
}
