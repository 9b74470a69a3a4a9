import type { Provenance } from '../trace/clause.ts';
import type { TableRow } from './table-4a.ts';

/**
 * Visually graded Southern Pine dimension lumber, 2 to 4 in thick, by width class. The size effect is in
 * the values (up to 12 in wide).
 *
 * Source: NDS Supplement 2018, Table 4B (values effective 1 June 2013), from memory; every Fb, Ft and Fc
 * agrees with the rounded metric values printed in a public general-purpose finite element library
 * (tests/engineering/materials/table-4b.unit.test.ts), and the 8 in wide rows marked 'seen' were read in psi.
 */
export type SouthernPineWidth = 4 | 6 | 8 | 10 | 12;

interface GradeTable {
  readonly ePsi: number;
  readonly eminPsi: number;
  readonly fcPerpPsi: number;
  /** Fb, Ft, Fc for 2-4, 5-6, 8, 10 and 12 in wide. */
  readonly byWidth: Readonly<Partial<Record<SouthernPineWidth, readonly [number, number, number]>>>;
}

const FV_PSI = 175;
const SEEN_AT_8 = new Set(['SS', 'No.2', 'No.3', 'Stud']);

const NO_3: GradeTable = {
  ePsi: 1.3e6,
  eminPsi: 470e3,
  fcPerpPsi: 565,
  byWidth: {
    4: [650, 400, 850],
    6: [575, 350, 800],
    8: [525, 325, 775],
    10: [475, 275, 750],
    12: [450, 250, 725],
  },
};

const GRADES: Readonly<Record<string, GradeTable>> = {
  'Dense SS': {
    ePsi: 1.9e6,
    eminPsi: 690e3,
    fcPerpPsi: 660,
    byWidth: {
      4: [2700, 1900, 2050],
      6: [2400, 1650, 1900],
      8: [2200, 1550, 1850],
      10: [1950, 1300, 1800],
      12: [1800, 1250, 1750],
    },
  },
  SS: {
    ePsi: 1.8e6,
    eminPsi: 660e3,
    fcPerpPsi: 565,
    byWidth: {
      4: [2350, 1650, 1900],
      6: [2100, 1450, 1800],
      8: [1950, 1350, 1700],
      10: [1700, 1150, 1650],
      12: [1600, 1100, 1650],
    },
  },
  'Non-Dense SS': {
    ePsi: 1.6e6,
    eminPsi: 580e3,
    fcPerpPsi: 480,
    byWidth: {
      4: [2050, 1450, 1800],
      6: [1850, 1300, 1700],
      8: [1700, 1200, 1650],
      10: [1500, 1050, 1600],
      12: [1400, 975, 1550],
    },
  },
  'No.1 Dense': {
    ePsi: 1.8e6,
    eminPsi: 660e3,
    fcPerpPsi: 660,
    byWidth: {
      4: [1650, 1100, 1750],
      6: [1500, 1000, 1650],
      8: [1350, 900, 1600],
      10: [1200, 800, 1550],
      12: [1100, 750, 1500],
    },
  },
  'No.1': {
    ePsi: 1.6e6,
    eminPsi: 580e3,
    fcPerpPsi: 565,
    byWidth: {
      4: [1500, 1000, 1650],
      6: [1350, 875, 1550],
      8: [1250, 800, 1500],
      10: [1050, 700, 1450],
      12: [1000, 650, 1400],
    },
  },
  'No.1 Non-Dense': {
    ePsi: 1.4e6,
    eminPsi: 510e3,
    fcPerpPsi: 480,
    byWidth: {
      4: [1300, 875, 1550],
      6: [1200, 775, 1450],
      8: [1100, 700, 1400],
      10: [950, 625, 1400],
      12: [900, 575, 1350],
    },
  },
  'No.2 Dense': {
    ePsi: 1.6e6,
    eminPsi: 580e3,
    fcPerpPsi: 660,
    byWidth: {
      4: [1200, 750, 1500],
      6: [1050, 650, 1450],
      8: [975, 600, 1400],
      10: [850, 525, 1350],
      12: [800, 500, 1300],
    },
  },
  'No.2': {
    ePsi: 1.4e6,
    eminPsi: 510e3,
    fcPerpPsi: 565,
    byWidth: {
      4: [1100, 675, 1450],
      6: [1000, 600, 1400],
      8: [925, 550, 1350],
      10: [800, 475, 1300],
      12: [750, 450, 1250],
    },
  },
  'No.2 Non-Dense': {
    ePsi: 1.3e6,
    eminPsi: 470e3,
    fcPerpPsi: 480,
    byWidth: {
      4: [1050, 600, 1450],
      6: [950, 525, 1350],
      8: [875, 500, 1300],
      10: [750, 425, 1250],
      12: [700, 400, 1250],
    },
  },
  'No.3': NO_3,
  Stud: NO_3,
  Construction: { ePsi: 1.4e6, eminPsi: 510e3, fcPerpPsi: 565, byWidth: { 4: [875, 500, 1600] } },
  Standard: { ePsi: 1.2e6, eminPsi: 440e3, fcPerpPsi: 565, byWidth: { 4: [475, 275, 1300] } },
  Utility: { ePsi: 1.2e6, eminPsi: 440e3, fcPerpPsi: 565, byWidth: { 4: [225, 125, 850] } },
};

export const TABLE_4B_GRADES: readonly string[] = Object.keys(GRADES);

/** The width class a nominal width is read in; wider than 12 in takes the 12 in row with its own CF. */
export function southernPineWidth(nominalWidthIn: number): SouthernPineWidth {
  if (nominalWidthIn <= 4) return 4;
  if (nominalWidthIn <= 6) return 6;
  if (nominalWidthIn <= 8) return 8;
  if (nominalWidthIn <= 10) return 10;
  return 12;
}

/** A row of Table 4B; undefined where the table has none (Construction wider than 4 in, unknown grade). */
export function table4b(grade: string, nominalWidthIn: number): TableRow | undefined {
  const table = GRADES[grade];
  const width = southernPineWidth(nominalWidthIn);
  const row = table?.byWidth[width];
  if (table === undefined || row === undefined) return undefined;
  const [fbPsi, ftPsi, fcPsi] = row;
  const provenance: Provenance = width === 8 && SEEN_AT_8.has(grade) ? 'seen' : 'from memory';
  return {
    provenance,
    values: {
      fbPsi,
      ftPsi,
      fvPsi: FV_PSI,
      fcPerpPsi: table.fcPerpPsi,
      fcPsi,
      ePsi: table.ePsi,
      eminPsi: table.eminPsi,
    },
  };
}
