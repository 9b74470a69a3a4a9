import { notNegative, positive, refuseUnless, type Clause, type Editions } from '../trace/index.ts';
import { irc } from './clauses.ts';

export interface PresumptiveSoil {
  readonly soil: string;
  readonly bearingPsf: number;
}

/** IRC Table R401.4.1, 2018 to 2024, presumptive load-bearing values of foundation materials. From memory. */
export const presumptiveSoils: readonly PresumptiveSoil[] = [
  { soil: 'crystalline bedrock', bearingPsf: 12_000 },
  { soil: 'sedimentary and foliated rock', bearingPsf: 4000 },
  { soil: 'sandy gravel or gravel (GW, GP)', bearingPsf: 3000 },
  { soil: 'sand, silty sand, clayey sand, silty gravel, clayey gravel', bearingPsf: 2000 },
  { soil: 'clay, sandy, silty, clayey silt, silt', bearingPsf: 1500 },
];

/** Soils of the table that carry at least this much without a report. */
export function soilsCarrying(bearingPsf: number): readonly PresumptiveSoil[] {
  const wanted = positive(bearingPsf, 'soilBearingPsf');
  return presumptiveSoils.filter((entry) => entry.bearingPsf >= wanted);
}

/** Smallest thickness of a spread footing and its projection, IRC R403.1.1. From memory. */
export const IRC_THINNEST_FOOTING_IN = 6;
export const IRC_LEAST_PROJECTION_IN = 2;

export interface FootingWidth {
  readonly widthIn: number;
  readonly thicknessIn: number;
  readonly clause: Clause;
}

type Storeys = 1 | 2 | 3;

/**
 * Table R403.1 of the 2003 to 2012 editions, conventional light frame: soil 1500, 2000, 3000, 4000 psf and more.
 * Seen (public copy of the table). Superseded; kept as a check of the engineered width.
 */
const WIDTH_UNTIL_2012: Readonly<Record<Storeys, readonly [number, number, number, number]>> = {
  1: [12, 12, 12, 12],
  2: [15, 12, 12, 12],
  3: [23, 17, 12, 12],
};

/** Superseded table; the column is the heaviest soil value not above the one given. */
export function footingWidthUntil2012(storeys: Storeys, soilPsf: number): FootingWidth {
  const column = columnOf([1500, 2000, 3000, 4000], soilPsf);
  return {
    widthIn: WIDTH_UNTIL_2012[storeys][column] ?? NaN,
    thicknessIn: IRC_THINNEST_FOOTING_IN,
    clause: { standard: 'IRC', edition: '2003–2012', section: 'Table R403.1', provenance: 'seen' },
  };
}

export type FoundationType = 'slab' | 'crawlspace' | 'basement';

const SNOWS_PSF = [20, 30, 50, 70] as const;
const SOILS_PSF = [1500, 2000, 2500, 3000, 3500, 4000] as const;
const TYPES: readonly FoundationType[] = ['slab', 'crawlspace', 'basement'];

type Cells = readonly (readonly [widthIn: number, thicknessIn: number])[];
const from = (...cells: readonly (readonly [number, number])[]): Cells => cells;
const W12 = [12, 6] as const;

/**
 * IRC Table R403.1(1), 2018 to 2024, light-frame construction, by roof snow or live load 20, 30, 50, 70 psf, storeys
 * 1 to 3, then slab on grade, crawl space, basement; cells for soils of 1500, 2000, 2500 … psf, and 12 × 6 in for
 * every better soil. From memory, low confidence: a second opinion, to be confirmed in the adopted code.
 */
const WIDTH_BY_SNOW: readonly (readonly (readonly Cells[])[])[] = [
  [
    [from(W12), from(W12), from([18, 6], [14, 6])],
    [from(W12), from([16, 6]), from([22, 6], [16, 6], [13, 6])],
    [from([14, 6]), from([19, 6], [14, 6]), from([25, 8], [19, 6], [15, 6], [13, 6])],
  ],
  [
    [from(W12), from([13, 6]), from([19, 6], [14, 6])],
    [from(W12), from([17, 6], [13, 6]), from([23, 6], [17, 6], [14, 6])],
    [from([15, 6]), from([20, 6], [15, 6]), from([26, 8], [20, 6], [16, 6], [13, 6])],
  ],
  [
    [from(W12), from([16, 6]), from([21, 6], [16, 6], [13, 6])],
    [from([14, 6]), from([19, 6], [14, 6]), from([25, 7], [19, 6], [15, 6])],
    [from([17, 6], [13, 6]), from([22, 6], [17, 6], [13, 6]), from([28, 9], [21, 6], [17, 6], [14, 6])],
  ],
  [
    [from(W12), from([18, 6], [14, 6]), from([24, 7], [18, 6], [14, 6])],
    [from([16, 6]), from([21, 6], [16, 6], [13, 6]), from([27, 9], [20, 6], [16, 6], [14, 6])],
    [
      from([19, 6], [14, 6]),
      from([25, 7], [18, 6], [15, 6]),
      from([30, 10], [23, 6], [18, 6], [15, 6], [13, 6]),
    ],
  ],
];

/**
 * The footing that the table asks under a wall, for the code edition of the project: a second opinion beside the
 * calculation, since a pack is no wall. Refuses snow above 70 psf and soil below 1500 psf, where the table ends.
 */
export function ircFootingWidth(input: {
  readonly editions: Editions;
  readonly storeys: Storeys;
  readonly foundation: FoundationType;
  readonly snowPsf: number;
  readonly soilPsf: number;
}): FootingWidth {
  const snow = notNegative(input.snowPsf, 'snowPsf');
  const row = SNOWS_PSF.findIndex((limit) => snow <= limit);
  refuseUnless(row !== -1, 'snowPsf', 'Table R403.1(1) ends at a snow load of 70 psf.');
  const column = columnOf(SOILS_PSF, input.soilPsf);
  const cells = WIDTH_BY_SNOW[row]?.[input.storeys - 1]?.[TYPES.indexOf(input.foundation)];
  const [widthIn, thicknessIn] = cells?.[column] ?? W12;
  return { widthIn, thicknessIn, clause: irc(input.editions, 'Table R403.1(1)') };
}

/** The last column whose soil value is not above the one given. */
function columnOf(soilsPsf: readonly number[], soilPsf: number): number {
  const soil = positive(soilPsf, 'soilPsf');
  refuseUnless(soil >= 1500, 'soilPsf', 'The footing tables begin at a soil value of 1500 psf.');
  return soilsPsf.reduce((last, value, index) => (value <= soil ? index : last), 0);
}
