/**
 * Where a figure comes from. `seen`: read in the source named. `from memory`: the standard and section are
 * named but were not at hand. `common practice`: the trade does it, no standard says so. `declared`: the user
 * entered it from a property sheet or an observation.
 */
export type Provenance = 'seen' | 'from memory' | 'common practice' | 'declared';

export type StandardName =
  | 'ASCE 7'
  | 'NDS'
  | 'NDS Supplement'
  | 'IRC'
  | 'ACI 318'
  | 'AISC 360'
  | 'OSHA'
  | 'NEC'
  | 'AWC TR12'
  | 'Mechanics'
  | 'Practice'
  | 'Declared';

export interface Clause {
  readonly standard: StandardName;
  /** '2018', '7-16', … ; empty for mechanics and practice. */
  readonly edition: string;
  /** '3.3.3', 'Table 4A', 'Eq. 3.7-1' … ; a few words for mechanics ("bending stress of a prism"). */
  readonly section: string;
  readonly provenance?: Provenance;
}

export function clauseText(clause: Clause): string {
  if (clause.standard === 'Practice') return ['Common practice', clause.section].filter(Boolean).join(': ');
  const where = [standardAndEdition(clause), clause.section].filter((part) => part !== '').join(' ');
  return clause.provenance === 'from memory' || clause.provenance === 'common practice'
    ? `${where} (${clause.provenance})`
    : where;
}

/** 'ASCE 7' of '7-16' is read 'ASCE 7-16', not 'ASCE 7 7-16'; likewise ACI 318-19 and AISC 360-16. */
function standardAndEdition({ standard, edition }: Clause): string {
  if (edition === '') return standard;
  const [body, number] = standard.split(' ');
  return number !== undefined && edition.startsWith(`${number}-`)
    ? `${body} ${edition}`
    : `${standard} ${edition}`;
}

/** The editions a project is judged by. Where they differ, the engine asks this record, never a default. */
export interface Editions {
  readonly asce7: '7-16' | '7-22';
  readonly nds: '2018' | '2024';
  readonly irc: '2018' | '2021' | '2024';
  readonly aci318: '318-19';
  readonly aisc360: '360-16' | '360-22';
}
