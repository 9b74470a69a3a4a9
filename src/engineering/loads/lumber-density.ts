import type { Clause } from '../trace/clause.ts';
import { notNegative, positive } from '../trace/refusal.ts';

/** Specific gravity of the species combinations, NDS Table 12.3.3A (from memory; seen in fastener tables). */
export const LUMBER_SPECIFIC_GRAVITY = {
  'Douglas Fir-Larch': 0.5,
  'Hem-Fir': 0.43,
  'Spruce-Pine-Fir': 0.42,
  'Southern Pine': 0.55,
} as const;

export const LUMBER_DENSITY_CLAUSE: Clause = {
  standard: 'NDS Supplement',
  edition: '2018',
  section: '3.1.3',
  provenance: 'from memory',
};

/**
 * Weight of lumber, pcf: 62.4 · G ÷ (1 + 0.009 · G · m) · (1 + m ÷ 100), G on oven-dry weight and volume, m the
 * moisture content in percent (NDS Supplement 3.1.3).
 */
export function lumberDensityPcf(specificGravity: number, moisturePercent = 15): number {
  const gravity = positive(specificGravity, 'specificGravity');
  const moisture = notNegative(moisturePercent, 'moisturePercent');
  return 62.4 * (gravity / (1 + gravity * 0.009 * moisture)) * (1 + moisture / 100);
}
