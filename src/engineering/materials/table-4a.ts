import type { Provenance } from '../trace/clause.ts';
import type { WoodReferenceValues } from './wood-material.ts';
import type { SpeciesCode } from './wood-species.ts';

/**
 * Visually graded dimension lumber, 2 to 4 in thick, all species but Southern Pine.
 *
 * Source: NDS Supplement 2018, Table 4A. 'seen': read in the tables of a public general-purpose finite
 * element library (which cites the Supplement's pages). The light framing grades (Construction, Standard,
 * Utility) are from memory. SPF Select Structural: that library prints Fb 1150; 1250 is from memory and is
 * what the ceiling joist spans of IRC Table R802.5.1(2) rest on (2x10 at 19.2 in: 21'-8").
 */
export interface TableRow {
  readonly values: WoodReferenceValues;
  readonly provenance: Provenance;
}

type Numbers = readonly [fb: number, ft: number, fc: number, eKsi: number, eminKsi: number];

function rowsOf(
  fvPsi: number,
  fcPerpPsi: number,
  rows: Readonly<Record<string, readonly [...Numbers, Provenance]>>,
): ReadonlyMap<string, TableRow> {
  return new Map(
    Object.entries(rows).map(([grade, [fbPsi, ftPsi, fcPsi, eKsi, eminKsi, provenance]]) => [
      grade,
      {
        provenance,
        values: { fbPsi, ftPsi, fvPsi, fcPerpPsi, fcPsi, ePsi: eKsi * 1000, eminPsi: eminKsi * 1000 },
      },
    ]),
  );
}

export const TABLE_4A: Readonly<Record<Exclude<SpeciesCode, 'SP'>, ReadonlyMap<string, TableRow>>> = {
  'DF-L': rowsOf(180, 625, {
    SS: [1500, 1000, 1700, 1900, 690, 'seen'],
    'No.1&Btr': [1200, 800, 1550, 1800, 660, 'seen'],
    'No.1': [1000, 675, 1500, 1700, 620, 'seen'],
    'No.2': [900, 575, 1350, 1600, 580, 'seen'],
    'No.3': [525, 325, 775, 1400, 510, 'seen'],
    Stud: [700, 450, 850, 1400, 510, 'seen'],
    Construction: [1000, 650, 1650, 1500, 550, 'from memory'],
    Standard: [575, 375, 1400, 1400, 510, 'from memory'],
    Utility: [275, 175, 900, 1300, 470, 'from memory'],
  }),
  HF: rowsOf(150, 405, {
    SS: [1400, 925, 1500, 1600, 580, 'seen'],
    'No.1&Btr': [1100, 725, 1350, 1500, 550, 'seen'],
    'No.1': [975, 625, 1350, 1500, 550, 'seen'],
    'No.2': [850, 525, 1300, 1300, 470, 'seen'],
    'No.3': [500, 300, 725, 1200, 440, 'seen'],
    Stud: [675, 400, 800, 1200, 440, 'seen'],
    Construction: [975, 600, 1550, 1300, 470, 'from memory'],
    Standard: [550, 325, 1300, 1200, 440, 'from memory'],
    Utility: [250, 150, 850, 1100, 400, 'from memory'],
  }),
  // The table has one row for No.1 and No.2.
  SPF: rowsOf(135, 425, {
    SS: [1250, 700, 1400, 1500, 550, 'from memory'],
    'No.1': [875, 450, 1150, 1400, 510, 'seen'],
    'No.2': [875, 450, 1150, 1400, 510, 'seen'],
    'No.3': [500, 250, 650, 1200, 440, 'seen'],
    Stud: [675, 350, 725, 1200, 440, 'seen'],
    Construction: [1000, 500, 1400, 1300, 470, 'from memory'],
    Standard: [550, 275, 1150, 1200, 440, 'from memory'],
    Utility: [275, 125, 750, 1100, 400, 'from memory'],
  }),
};
