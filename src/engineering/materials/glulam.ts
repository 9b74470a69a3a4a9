import type { Editions } from '../trace/clause.ts';
import { refuseUnless } from '../trace/refusal.ts';
import type { WoodMaterial } from './wood-material.ts';
import { woodDensityPcf } from './wood-species.ts';

/**
 * Structural glued laminated timber stressed mainly in bending: stress classes and two layup combinations.
 *
 * Source: NDS Supplement 2018, Table 5A and Table 5A Expanded, from memory (Fb+ 2400 of 24F-V4 seen in a
 * public library's test). Where editions printed two shear values the lower one stands here.
 */
interface GlulamRow {
  readonly fbPositive: number;
  readonly fbNegative: number;
  readonly fcPerp: number;
  readonly fv: number;
  readonly eKsi: number;
  readonly eminKsi: number;
  readonly fbWeak: number;
  readonly eminWeakKsi: number;
  readonly ft: number;
  readonly fc: number;
  readonly specificGravity: number;
  readonly southernPine?: true;
  readonly table: 'Table 5A' | 'Table 5A Expanded';
}

const TABLE_5A: Readonly<Record<string, GlulamRow>> = {
  '16F-1.3E': row([1600, 925, 315, 195, 1300, 690, 800, 580, 675, 925, 0.42]),
  '20F-1.5E': row([2000, 1100, 425, 195, 1500, 790, 800, 630, 725, 925, 0.42]),
  '24F-1.7E': row([2400, 1450, 500, 210, 1700, 900, 1050, 690, 775, 1000, 0.42]),
  '24F-1.8E': row([2400, 1450, 650, 265, 1800, 950, 1450, 850, 1100, 1600, 0.5]),
  '26F-1.9E': row([2600, 1950, 650, 265, 1900, 1000, 1600, 850, 1150, 1600, 0.5]),
  '28F-2.1E SP': row([2800, 2300, 740, 300, 2100, 1110, 1600, 900, 1250, 1750, 0.55], 'Table 5A', true),
  '30F-2.1E SP': row([3000, 2400, 740, 300, 2100, 1110, 1750, 900, 1250, 1750, 0.55], 'Table 5A', true),
  // Unbalanced: the top face, stretched over an inner support, is worth less.
  '24F-V4': row([2400, 1850, 650, 265, 1800, 950, 1450, 850, 1100, 1650, 0.5], 'Table 5A Expanded'),
  // Balanced: both faces alike.
  '24F-V8': row([2400, 2400, 650, 265, 1800, 950, 1550, 850, 1100, 1650, 0.5], 'Table 5A Expanded'),
};

export const GLULAM_COMBINATIONS: readonly string[] = Object.keys(TABLE_5A);

function row(
  n: readonly [number, number, number, number, number, number, number, number, number, number, number],
  table: GlulamRow['table'] = 'Table 5A',
  southernPine = false,
): GlulamRow {
  const [fbPositive, fbNegative, fcPerp, fv, eKsi, eminKsi, fbWeak, eminWeakKsi, ft, fc, specificGravity] = n;
  return {
    fbPositive,
    fbNegative,
    fcPerp,
    fv,
    eKsi,
    eminKsi,
    fbWeak,
    eminWeakKsi,
    ft,
    fc,
    specificGravity,
    table,
    ...(southernPine ? { southernPine } : {}),
  };
}

/** Glulam is made at 16 percent moisture or less (NDS 5.1.4). */
const GLULAM_MOISTURE_PERCENT = 16;

/**
 * Reference design values of a glulam stress class or combination.
 *
 * @param name '24F-1.8E', '24F-V4' …
 * @throws Refusal for a class not held.
 */
export function glulamMaterial(
  name: string,
  edition: Editions['nds'],
  path = 'member.combination',
): WoodMaterial {
  const found = TABLE_5A[name];
  refuseUnless(
    found !== undefined,
    path,
    `Glulam ${name} is not held; there are ${GLULAM_COMBINATIONS.join(', ')}.`,
  );
  return {
    family: 'glulam',
    label: `Glulam ${name}`,
    clause: { standard: 'NDS Supplement', edition, section: found.table, provenance: 'from memory' },
    reference: {
      fbPsi: found.fbPositive,
      ftPsi: found.ft,
      fvPsi: found.fv,
      fcPerpPsi: found.fcPerp,
      fcPsi: found.fc,
      ePsi: found.eKsi * 1000,
      eminPsi: found.eminKsi * 1000,
    },
    fbNegativePsi: found.fbNegative,
    eminWeakPsi: found.eminWeakKsi * 1000,
    fbWeakPsi: found.fbWeak,
    specificGravity: found.specificGravity,
    densityPcf: woodDensityPcf(found.specificGravity, GLULAM_MOISTURE_PERCENT),
    volume: { kind: 'glulam', exponentDivisor: found.southernPine ? 20 : 10 },
    ...(found.fbNegative === found.fbPositive
      ? {}
      : { note: 'Unbalanced layup: the stamped top face must be up.' }),
  };
}
