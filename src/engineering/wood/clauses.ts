import type { Clause, Editions } from '../trace/clause.ts';

export type NdsEdition = Editions['nds'];

/**
 * Sections whose formula or figure was read in a source at hand (public verification examples, handouts,
 * textbook solutions); every other section of NDS is cited from memory, and the calculation sheet says so.
 */
const SEEN: ReadonlySet<string> = new Set([
  'Table 2.3.2',
  'Table 2.3.3',
  'Table 3.3.3',
  '3.3.3',
  'Eq. 3.3-5',
  'Eq. 3.3-6',
  '3.7.1',
  'Eq. 3.7-1',
  '3.10.4',
  '4.3.6',
  '4.3.7',
  '4.3.8',
  '4.3.9',
  '15.3.2',
  '15.3.3',
]);

/** A clause of the National Design Specification, with how it is known. */
export function nds(edition: NdsEdition, section: string): Clause {
  return { standard: 'NDS', edition, section, provenance: SEEN.has(section) ? 'seen' : 'from memory' };
}
