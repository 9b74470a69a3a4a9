import type { WoodMaterial } from '../materials/wood-material.ts';

/** Size factor CF on bending, tension and compression. */
export interface SizeFactors {
  readonly fb: number;
  readonly ft: number;
  readonly fc: number;
}

const NO_SIZE_EFFECT: SizeFactors = { fb: 1, ft: 1, fc: 1 };
const UTILITY_NARROW: SizeFactors = { fb: 0.4, ft: 0.4, fc: 0.6 };

/**
 * Steps of the size factor by nominal width: Fb of 2 and 3 in thick (also Ft), Fb of 4 in thick, Fc.
 * Stepped, never interpolated. Source: NDS Supplement Table 4A, size factors (seen).
 */
const STEPS: readonly (readonly [upToIn: number, fbThin: number, fbThick: number, fc: number])[] = [
  [4, 1.5, 1.5, 1.15],
  [5, 1.4, 1.4, 1.1],
  [6, 1.3, 1.3, 1.1],
  [8, 1.2, 1.3, 1.05],
  [10, 1.1, 1.2, 1],
  [12, 1, 1.1, 1],
  [Infinity, 0.9, 1, 0.9],
];

const TIMBER_FULL_DEPTH_IN = 12;

/**
 * Size factor CF.
 *
 * Source: NDS 4.3.6 with NDS Supplement Table 4A (dimension: seen), Table 4B (Southern Pine: from memory),
 * NDS 4.3.6.2 (timbers deeper than 12 in: (12 ÷ d)^(1/9), from memory). Glulam and composites have CV instead.
 *
 * @param nominalThicknessIn of one ply.
 * @param nominalWidthIn of one ply, the wide face.
 * @param depthIn dressed depth in bending.
 */
export function sizeFactors(
  material: WoodMaterial,
  nominalThicknessIn: number,
  nominalWidthIn: number,
  depthIn: number,
): SizeFactors {
  switch (material.family) {
    case 'dimension':
      return dimensionSizeFactors(material.grade ?? '', nominalThicknessIn, nominalWidthIn);
    case 'southern pine dimension':
      return southernPineSizeFactors(material.grade ?? '', nominalThicknessIn, nominalWidthIn);
    case 'timber':
    case 'southern pine timber':
      return depthIn > TIMBER_FULL_DEPTH_IN
        ? { fb: (TIMBER_FULL_DEPTH_IN / depthIn) ** (1 / 9), ft: 1, fc: 1 }
        : NO_SIZE_EFFECT;
    case 'glulam':
    case 'composite':
      return NO_SIZE_EFFECT;
  }
}

function dimensionSizeFactors(grade: string, thicknessIn: number, widthIn: number): SizeFactors {
  if (grade === 'Construction' || grade === 'Standard') return NO_SIZE_EFFECT;
  if (grade === 'Utility') return widthIn < 4 ? UTILITY_NARROW : NO_SIZE_EFFECT;
  if (grade === 'Stud') return widthIn <= 4 ? { fb: 1.1, ft: 1.1, fc: 1.05 } : NO_SIZE_EFFECT;
  for (const [upToIn, fbThin, fbThick, fc] of STEPS) {
    if (widthIn <= upToIn) return { fb: thicknessIn >= 4 ? fbThick : fbThin, ft: fbThin, fc };
  }
  return NO_SIZE_EFFECT;
}

function southernPineSizeFactors(grade: string, thicknessIn: number, widthIn: number): SizeFactors {
  if (grade === 'Utility' && widthIn < 4) return UTILITY_NARROW;
  if (widthIn > 12) return { fb: 0.9 * thickPlank(thicknessIn, widthIn), ft: 0.9, fc: 0.9 };
  return { fb: thickPlank(thicknessIn, widthIn), ft: 1, fc: 1 };
}

/** Table 4B: Fb of pieces 4 in thick and 8 in or more wide is raised by 1.1. */
function thickPlank(thicknessIn: number, widthIn: number): number {
  return thicknessIn >= 4 && widthIn >= 8 ? 1.1 : 1;
}

/** Beams and stringers loaded on the wide face, by grade (NDS Supplement Table 4D, from memory). */
const FLAT_BEAMS: Readonly<Record<string, number>> = { SS: 0.86, 'No.1': 0.74 };

/**
 * Flat use factor Cfu on Fb for bending about the weak axis.
 *
 * Source: NDS 4.3.7 with Table 4A (dimension: seen), Table 4D (beams and stringers: from memory). Glulam
 * has Fby of its own and composites a factor in their report: 1 here.
 */
export function flatUseFactor(
  material: WoodMaterial,
  nominalThicknessIn: number,
  nominalWidthIn: number,
): number {
  switch (material.family) {
    case 'dimension':
    case 'southern pine dimension':
      return nominalThicknessIn >= 4 ? thickFlatUse(nominalWidthIn) : thinFlatUse(nominalWidthIn);
    case 'timber':
    case 'southern pine timber':
      return material.sizeClass === 'beams and stringers' ? (FLAT_BEAMS[material.grade ?? ''] ?? 1) : 1;
    case 'glulam':
    case 'composite':
      return 1;
  }
}

function thinFlatUse(widthIn: number): number {
  if (widthIn < 4) return 1;
  if (widthIn <= 5) return 1.1;
  if (widthIn <= 8) return 1.15;
  return 1.2;
}

function thickFlatUse(widthIn: number): number {
  if (widthIn <= 4) return 1;
  if (widthIn <= 8) return 1.05;
  return 1.1;
}
