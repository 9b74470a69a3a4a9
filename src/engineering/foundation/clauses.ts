import type { Clause, Editions } from '../trace/index.ts';

export function aci(editions: Editions, section: string): Clause {
  return { standard: 'ACI 318', edition: editions.aci318, section, provenance: 'from memory' };
}

export function irc(editions: Editions, section: string): Clause {
  return { standard: 'IRC', edition: editions.irc, section, provenance: 'from memory' };
}

export const STATICS: Clause = { standard: 'Mechanics', edition: '', section: 'equilibrium' };
export const PRACTICE: Clause = {
  standard: 'Practice',
  edition: '',
  section: '',
  provenance: 'common practice',
};
