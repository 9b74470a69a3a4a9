import type { Clause, Editions } from '../trace/clause.ts';
import { refuseUnless } from '../trace/refusal.ts';
import type { SawnSize } from './lumber-sizes.ts';
import { TABLE_4A, type TableRow } from './table-4a.ts';
import { table4b, TABLE_4B_GRADES } from './table-4b.ts';
import { table4d, table4dGrades } from './table-4d.ts';
import type { WoodFamily, WoodMaterial, WoodReferenceValues } from './wood-material.ts';
import { findSpecies, type Species, type SpeciesCode, woodDensityPcf } from './wood-species.ts';

/** Longer names that grade stamps and drawings carry, folded to the code of the tables. */
const ALIASES: Readonly<Record<string, string>> = {
  'select structural': 'SS',
  'sel str': 'SS',
  'no.1 & btr': 'No.1&Btr',
  'no.1 & better': 'No.1&Btr',
  'no.1/no.2': 'No.2',
  'no.3 / stud': 'No.3',
  'dense select structural': 'Dense SS',
  'non-dense select structural': 'Non-Dense SS',
};

/** Light framing grades exist up to 4 in wide only (NDS Supplement Table 4A, size classification). */
const LIGHT_FRAMING = new Set(['Construction', 'Standard', 'Utility']);
const LIGHT_FRAMING_MAX_WIDTH_IN = 4;
const STUD_MAX_WIDTH_IN = 6;

/** The code of a grade: 'Select Structural' → 'SS', '#2' → 'No.2'; unknown names come back trimmed. */
export function gradeCode(name: string): string {
  const trimmed = name
    .trim()
    .replace(/^#/, 'No.')
    .replace(/^no\.?\s*(?=\d)/i, 'No.');
  return ALIASES[trimmed.toLowerCase()] ?? trimmed;
}

/** The grades that can be had in a species and size, in the order of the tables. */
export function gradesFor(speciesCode: SpeciesCode, size: SawnSize): readonly string[] {
  if (size.sizeClass !== 'dimension') return table4dGrades(speciesCode, size.sizeClass);
  const all = speciesCode === 'SP' ? TABLE_4B_GRADES : [...TABLE_4A[speciesCode].keys()];
  return all.filter(
    (grade) => !LIGHT_FRAMING.has(grade) || size.nominalWidthIn <= LIGHT_FRAMING_MAX_WIDTH_IN,
  );
}

/**
 * Reference design values of visually graded sawn lumber.
 *
 * @param speciesName 'DF-L', 'HF', 'SPF', 'SP' or the full name.
 * @param gradeName 'SS', 'No.2', 'Stud' … (full names are understood).
 * @param size from `sawnSize`.
 * @param edition of NDS; the 2018 and 2024 Supplements are taken to agree in these rows (from memory).
 * @param path prefix of the field named in a refusal ('beam.member').
 * @throws Refusal where the tables have no such species, grade or width.
 */
export function sawnMaterial(
  speciesName: string,
  gradeName: string,
  size: SawnSize,
  edition: Editions['nds'],
  path = 'member',
): WoodMaterial {
  const species = findSpecies(speciesName, `${path}.species`);
  const asked = gradeCode(gradeName);
  const grades = gradesFor(species.code, size);
  refuseUnless(
    grades.includes(asked),
    `${path}.grade`,
    `${species.label} ${gradeName} is not graded as ${size.name}; there are ${grades.join(', ')}.`,
  );
  if (size.sizeClass !== 'dimension') return timber(species, asked, size.sizeClass, edition);
  // NDS Supplement Table 4A, note to CF: Stud 8 in and wider takes the values and size factors of No.3.
  const read = asked === 'Stud' && size.nominalWidthIn > STUD_MAX_WIDTH_IN ? 'No.3' : asked;
  return dimension(species, asked, read, size, edition);
}

function dimension(
  species: Species,
  asked: string,
  read: string,
  size: SawnSize,
  edition: Editions['nds'],
): WoodMaterial {
  const southern = species.code === 'SP';
  const row = southern ? table4b(read, size.nominalWidthIn) : table4aRow(species.code, read);
  refuseUnless(row !== undefined, 'grade', `No table row for ${species.label} ${read} ${size.name}.`);
  const clause: Clause = {
    standard: 'NDS Supplement',
    edition,
    section: southern ? 'Table 4B' : 'Table 4A',
    provenance: row.provenance,
  };
  const note = read === asked ? undefined : 'Stud 8 in and wider is read as No.3.';
  return material(
    species,
    asked,
    read,
    southern ? 'southern pine dimension' : 'dimension',
    'dimension',
    clause,
    row.values,
    note,
  );
}

function table4aRow(species: SpeciesCode, grade: string): TableRow | undefined {
  return species === 'SP' ? undefined : TABLE_4A[species].get(grade);
}

function timber(
  species: Species,
  grade: string,
  sizeClass: 'posts and timbers' | 'beams and stringers',
  edition: Editions['nds'],
): WoodMaterial {
  const values = table4d(species.code, sizeClass, grade);
  refuseUnless(values !== undefined, 'grade', `No table row for ${species.label} ${grade} timbers.`);
  const clause: Clause = {
    standard: 'NDS Supplement',
    edition,
    section: 'Table 4D',
    provenance: 'from memory',
  };
  const family = species.code === 'SP' ? 'southern pine timber' : 'timber';
  return material(species, grade, grade, family, sizeClass, clause, values);
}

function material(
  species: Species,
  asked: string,
  read: string,
  family: WoodFamily,
  sizeClass: SawnSize['sizeClass'],
  clause: Clause,
  reference: WoodReferenceValues,
  note?: string,
): WoodMaterial {
  return {
    family,
    label: `${species.code} ${asked}`,
    clause,
    reference,
    fbNegativePsi: reference.fbPsi,
    eminWeakPsi: reference.eminPsi,
    fbWeakPsi: reference.fbPsi,
    specificGravity: species.specificGravity,
    densityPcf: woodDensityPcf(species.specificGravity),
    species: species.code,
    grade: read,
    sizeClass,
    ...(note === undefined ? {} : { note }),
  };
}
