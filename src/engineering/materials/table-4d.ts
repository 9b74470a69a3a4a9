import type { WoodReferenceValues } from './wood-material.ts';
import type { SpeciesCode } from './wood-species.ts';

/**
 * Visually graded timbers, 5x5 and larger.
 *
 * Source: NDS Supplement 2018, Table 4D, from memory. Southern Pine has one set for all shapes, and its
 * values hold wet or dry.
 */
type TimberClass = 'posts and timbers' | 'beams and stringers';
type Row = readonly [fb: number, ft: number, fc: number, eKsi: number, eminKsi: number];

interface TimberTable {
  readonly fvPsi: number;
  readonly fcPerpPsi: number;
  /** Dense grades crush less. */
  readonly fcPerpDensePsi?: number;
  readonly rows: Readonly<Record<TimberClass, Readonly<Record<string, Row>>>>;
}

const SOUTHERN_PINE: Readonly<Record<string, Row>> = {
  'Dense SS': [1750, 1200, 1100, 1600, 580],
  SS: [1500, 1000, 950, 1500, 550],
  'No.1 Dense': [1550, 1050, 975, 1600, 580],
  'No.1': [1350, 900, 825, 1500, 550],
  'No.2 Dense': [975, 650, 625, 1300, 470],
  'No.2': [850, 550, 525, 1200, 440],
};

const TABLES: Readonly<Record<SpeciesCode, TimberTable>> = {
  'DF-L': {
    fvPsi: 170,
    fcPerpPsi: 625,
    rows: {
      'beams and stringers': {
        SS: [1600, 950, 1100, 1600, 580],
        'No.1': [1350, 675, 925, 1600, 580],
        'No.2': [875, 425, 600, 1300, 470],
      },
      'posts and timbers': {
        SS: [1500, 1000, 1150, 1600, 580],
        'No.1': [1200, 825, 1000, 1600, 580],
        'No.2': [750, 475, 700, 1300, 470],
      },
    },
  },
  HF: {
    fvPsi: 140,
    fcPerpPsi: 405,
    rows: {
      'beams and stringers': {
        SS: [1300, 750, 925, 1300, 470],
        'No.1': [1050, 525, 750, 1300, 470],
        'No.2': [675, 350, 500, 1100, 400],
      },
      'posts and timbers': {
        SS: [1200, 800, 975, 1300, 470],
        'No.1': [975, 650, 850, 1300, 470],
        'No.2': [575, 375, 575, 1100, 400],
      },
    },
  },
  SPF: {
    fvPsi: 125,
    fcPerpPsi: 425,
    rows: {
      'beams and stringers': {
        SS: [1100, 650, 775, 1300, 470],
        'No.1': [900, 450, 625, 1300, 470],
        'No.2': [600, 300, 425, 1000, 370],
      },
      'posts and timbers': {
        SS: [1050, 700, 800, 1300, 470],
        'No.1': [850, 550, 700, 1300, 470],
        'No.2': [500, 325, 500, 1000, 370],
      },
    },
  },
  SP: {
    fvPsi: 165,
    fcPerpPsi: 375,
    fcPerpDensePsi: 440,
    rows: { 'beams and stringers': SOUTHERN_PINE, 'posts and timbers': SOUTHERN_PINE },
  },
};

/** The grades Table 4D has for a species and shape. */
export function table4dGrades(species: SpeciesCode, timberClass: TimberClass): readonly string[] {
  return Object.keys(TABLES[species].rows[timberClass]);
}

/** A row of Table 4D; undefined where the table has no such grade. */
export function table4d(
  species: SpeciesCode,
  timberClass: TimberClass,
  grade: string,
): WoodReferenceValues | undefined {
  const table = TABLES[species];
  const row = table.rows[timberClass][grade];
  if (row === undefined) return undefined;
  const [fbPsi, ftPsi, fcPsi, eKsi, eminKsi] = row;
  const fcPerpPsi = grade.includes('Dense') ? (table.fcPerpDensePsi ?? table.fcPerpPsi) : table.fcPerpPsi;
  return { fbPsi, ftPsi, fvPsi: table.fvPsi, fcPerpPsi, fcPsi, ePsi: eKsi * 1000, eminPsi: eminKsi * 1000 };
}
