import type { WoodFamily } from '../materials/wood-material.ts';
import { finite, positive, refuseUnless } from '../trace/refusal.ts';

/** One factor for each reference design value; 1 where the factor does not touch it. */
export interface ValueFactors {
  readonly fb: number;
  readonly ft: number;
  readonly fv: number;
  readonly fcPerp: number;
  readonly fc: number;
  /** E and Emin. */
  readonly e: number;
}

const UNTOUCHED: ValueFactors = { fb: 1, ft: 1, fv: 1, fcPerp: 1, fc: 1, e: 1 };

export type LoadDuration = 'permanent' | 'ten years' | 'two months' | 'seven days' | 'ten minutes' | 'impact';

/**
 * Load duration factor CD of the shortest load in a combination. Never for E, Emin or Fc⊥.
 * Source: NDS Table 2.3.2 (seen; impact from memory).
 */
const LOAD_DURATION: Readonly<Record<LoadDuration, number>> = {
  permanent: 0.9,
  'ten years': 1,
  'two months': 1.15,
  'seven days': 1.25,
  'ten minutes': 1.6,
  impact: 2,
};

export function loadDurationFactor(duration: LoadDuration): number {
  return LOAD_DURATION[duration];
}

/** Refuses a CD that NDS Table 2.3.2 does not span (0.9 dead … 2.0 impact). */
export function validLoadDuration(factor: number, path: string): number {
  finite(factor, path);
  refuseUnless(factor >= 0.9 && factor <= 2, path, 'The load duration factor lies between 0.9 and 2.0.');
  return factor;
}

/**
 * At or below these, Fb·CF or Fc·CF of dimension lumber is not reduced further for moisture
 * (NDS Supplement Tables 4A and 4B, CM, footnotes: seen).
 */
const WEAK_BENDING_PSI = 1150;
const WEAK_COMPRESSION_PSI = 750;

const WET_GLULAM: ValueFactors = { fb: 0.8, ft: 0.8, fv: 0.875, fcPerp: 0.53, fc: 0.73, e: 0.833 };
const WET_TIMBER: ValueFactors = { fb: 1, ft: 1, fv: 1, fcPerp: 0.67, fc: 0.91, e: 1 };

/**
 * Wet service factor CM.
 *
 * Source: NDS Supplement Tables 4A, 4B (dimension: seen), 4D and 5A (from memory). Southern Pine timbers:
 * the table's values hold wet or dry. Composites: NDS 8.1.4 gives values for dry service only.
 *
 * @param sizedFbPsi Fb · CF, for the footnote on weak grades.
 * @param sizedFcPsi Fc · CF.
 * @throws Refusal for composites in the wet.
 */
export function wetServiceFactors(
  family: WoodFamily,
  wet: boolean,
  sizedFbPsi: number,
  sizedFcPsi: number,
): ValueFactors {
  if (!wet) return UNTOUCHED;
  switch (family) {
    case 'dimension':
    case 'southern pine dimension':
      return {
        fb: sizedFbPsi <= WEAK_BENDING_PSI ? 1 : 0.85,
        ft: 1,
        fv: 0.97,
        fcPerp: 0.67,
        fc: sizedFcPsi <= WEAK_COMPRESSION_PSI ? 1 : 0.8,
        e: 0.9,
      };
    case 'timber':
      return WET_TIMBER;
    case 'southern pine timber':
      return UNTOUCHED;
    case 'glulam':
      return WET_GLULAM;
    case 'composite':
      refuseUnless(
        false,
        'conditions.wet',
        'Composite lumber has design values for dry service only; keep it dry or take sawn or glued timber.',
      );
  }
}

/**
 * Temperature factor Ct for sustained heat.
 * Source: NDS Table 2.3.3 (dry: seen; wet: from memory).
 * @param temperatureF up to 150; `validateConditions` refuses more.
 */
export function temperatureFactors(temperatureF: number, wet: boolean): ValueFactors {
  if (temperatureF <= 100) return UNTOUCHED;
  const others = temperatureF <= 125 ? (wet ? 0.7 : 0.8) : wet ? 0.5 : 0.7;
  return { fb: others, ft: 0.9, fv: others, fcPerp: others, fc: others, e: 0.9 };
}

/**
 * Incising factor Ci of dimension lumber; timbers are thick enough not to feel the cuts.
 * Source: NDS 4.3.8 and Table 4.3.8 (seen).
 * @throws Refusal for glulam and composites, which are not incised by the standard's rule.
 */
export function incisingFactors(family: WoodFamily, incised: boolean): ValueFactors {
  if (!incised) return UNTOUCHED;
  refuseUnless(
    family !== 'glulam' && family !== 'composite',
    'conditions.incised',
    'NDS has an incising factor for sawn lumber only; ask the maker of this product.',
  );
  if (family === 'timber' || family === 'southern pine timber') return UNTOUCHED;
  return { fb: 0.8, ft: 0.8, fv: 0.8, fcPerp: 1, fc: 0.8, e: 0.95 };
}

/**
 * Repetitive member factor Cr on Fb: 1.15 for dimension lumber (NDS 4.3.9, seen), 1.04 for composites
 * (NDS 8.3.7, from memory), none for timbers and glulam.
 */
export function repetitiveFactor(family: WoodFamily, repetitive: boolean): number {
  if (!repetitive) return 1;
  switch (family) {
    case 'dimension':
    case 'southern pine dimension':
      return 1.15;
    case 'composite':
      return 1.04;
    case 'timber':
    case 'southern pine timber':
    case 'glulam':
      return 1;
  }
}

/** NDS 4.3.9: three members at least, 24 in apart at most, joined by floor, roof or another element. */
export function isRepetitive(members: number, spacingIn: number, joined: boolean): boolean {
  return joined && members >= 3 && spacingIn <= 24;
}

const LONGEST_RAISED_BEARING_IN = 6;
const CLEAR_OF_END_IN = 3;

/**
 * Bearing area factor Cb = (lb + 0.375) ÷ lb where the bearing is shorter than 6 in and lies 3 in or more
 * from the end of the member that is pressed; 1 elsewhere.
 * Source: NDS 3.10.4, Eq. 3.10-2 (seen).
 *
 * @param bearingLengthIn along the grain of the member that is pressed.
 * @param endDistanceIn from the bearing to the nearer end of that member.
 */
export function bearingAreaFactor(bearingLengthIn: number, endDistanceIn: number): number {
  positive(bearingLengthIn, 'bearingLengthIn');
  if (bearingLengthIn >= LONGEST_RAISED_BEARING_IN || endDistanceIn < CLEAR_OF_END_IN) return 1;
  return (bearingLengthIn + 0.375) / bearingLengthIn;
}
