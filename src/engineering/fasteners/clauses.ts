import type { Clause, Editions, Provenance } from '../trace/index.ts';

/**
 * Clauses of the two standards that govern fasteners. The connection chapters keep their section numbers in
 * NDS 2018 and 2024; the equations here were checked against published examples of 2015/2018, so figures
 * that were not seen in print are marked `from memory` where they are used.
 */
export function ndsClause(editions: Editions, section: string, provenance?: Provenance): Clause {
  return {
    standard: 'NDS',
    edition: editions.nds,
    section,
    ...(provenance === undefined ? {} : { provenance }),
  };
}

export function ircClause(editions: Editions, section: string, provenance?: Provenance): Clause {
  return {
    standard: 'IRC',
    edition: editions.irc,
    section,
    ...(provenance === undefined ? {} : { provenance }),
  };
}

/** A rule of the trade that no standard states. */
export function practiceClause(section: string): Clause {
  return { standard: 'Practice', edition: '', section, provenance: 'common practice' };
}

/** A value that the user entered from an evaluation report or a maker's sheet. */
export function declaredClause(report: string): Clause {
  return { standard: 'Declared', edition: '', section: report, provenance: 'declared' };
}

export function mechanicsClause(section: string): Clause {
  return { standard: 'Mechanics', edition: '', section };
}
