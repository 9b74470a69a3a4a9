import type { Clause } from '../trace/index.ts';

export const PRACTICE: Clause = {
  standard: 'Practice',
  edition: '',
  section: '',
  provenance: 'common practice',
};
export const STATICS: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'equilibrium of a joist on the temporary walls',
};

/** 29 CFR 1926: subpart T, demolition. Seen in a public copy of the sections, but for 1926.854 (from memory). */
export function osha(section: string): Clause {
  return {
    standard: 'OSHA',
    edition: '29 CFR',
    section,
    provenance: section.startsWith('1926.850') ? 'seen' : 'from memory',
  };
}
