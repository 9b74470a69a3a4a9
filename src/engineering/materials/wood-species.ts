import { notNegative, positive, refuseUnless } from '../trace/refusal.ts';

/** Species combinations by the code the trade writes on a drawing. */
export type SpeciesCode = 'DF-L' | 'HF' | 'SPF' | 'SP';

export interface Species {
  readonly code: SpeciesCode;
  readonly label: string;
  /** Oven-dry specific gravity G, NDS Table 12.3.3A (seen in an AWC revision sheet). */
  readonly specificGravity: number;
}

export const SPECIES: Readonly<Record<SpeciesCode, Species>> = {
  'DF-L': { code: 'DF-L', label: 'Douglas Fir-Larch', specificGravity: 0.5 },
  HF: { code: 'HF', label: 'Hem-Fir', specificGravity: 0.43 },
  SPF: { code: 'SPF', label: 'Spruce-Pine-Fir', specificGravity: 0.42 },
  SP: { code: 'SP', label: 'Southern Pine', specificGravity: 0.55 },
};

export const SPECIES_CODES: readonly SpeciesCode[] = ['DF-L', 'HF', 'SPF', 'SP'];

/** 'DF-L', 'df-l' or 'Douglas Fir-Larch' → the species. @throws Refusal for a name not held. */
export function findSpecies(name: string, path = 'species'): Species {
  const wanted = name.trim().toLowerCase();
  const found = SPECIES_CODES.map((code) => SPECIES[code]).find(
    (species) => species.code.toLowerCase() === wanted || species.label.toLowerCase() === wanted,
  );
  refuseUnless(
    found !== undefined,
    path,
    `Species "${name}" is not held; use ${SPECIES_CODES.join(', ')} (grade stamps name one of them).`,
  );
  return found;
}

/** Dry lumber is sold at up to 19 percent moisture; the heaviest it can be and still be dry. */
const DRY_LUMBER_MOISTURE_PERCENT = 19;

/**
 * Weight of wood with its moisture, pcf: 62.4 · [G ÷ (1 + 0.009 · G · mc)] · (1 + mc ÷ 100).
 * Source: NDS Supplement 3.1.3 (from memory).
 *
 * @param specificGravity oven-dry G.
 * @param moisturePercent moisture content, percent; 19 unless said.
 */
export function woodDensityPcf(
  specificGravity: number,
  moisturePercent = DRY_LUMBER_MOISTURE_PERCENT,
): number {
  positive(specificGravity, 'specificGravity');
  notNegative(moisturePercent, 'moisturePercent');
  return (
    62.4 * (specificGravity / (1 + 0.009 * specificGravity * moisturePercent)) * (1 + moisturePercent / 100)
  );
}
