import { makeCheck, notNegative, positive, qty, type Check, type Editions } from '../trace/index.ts';
import { ircClause } from './clauses.ts';

/** Nearer to the face than this, a cable or pipe wants steel before it (IRC P2603.2.1, E3802.1; NEC 300.4). */
export const SHIELD_DISTANCE_IN = 1.25;
/** The shield, in: 1/16 in over cable (NEC 300.4(A)(1)), 0.0575 in (16 gauge) over pipe (IRC P2603.2.1). */
export const CABLE_SHIELD_IN = 1 / 16;
export const PIPE_SHIELD_IN = 0.0575;

export interface ServiceThroughFraming {
  readonly service: 'cable' | 'pipe';
  /** Least wood between the bored hole (or the bottom of the notch) and the nailed face, in. */
  readonly edgeIn: number;
  /** Thickness of the plate over it, in; zero for none. */
  readonly plateIn: number;
}

/**
 * Is a re-routed cable or pipe safe from the nails of the wall finish? Hole and notch sizes themselves:
 * `checkStudCut` and `checkJoistCut` of src/engineering/wood. Distances and gauges from memory.
 * @throws Refusal for a negative distance
 */
export function checkShield(id: string, through: ServiceThroughFraming, editions: Editions): Check {
  const edgeIn = notNegative(through.edgeIn, `${id}.edgeIn`);
  const plateIn = notNegative(through.plateIn, `${id}.plateIn`);
  const neededIn = positive(through.service === 'cable' ? CABLE_SHIELD_IN : PIPE_SHIELD_IN, id);
  const clause = ircClause(editions, through.service === 'cable' ? 'E3802.1' : 'P2603.2.1', 'from memory');
  if (edgeIn >= SHIELD_DISTANCE_IN - 1e-9) {
    return makeCheck({
      id,
      title: 'Wood before the hole',
      clause,
      demand: qty(SHIELD_DISTANCE_IN, 'in'),
      capacity: qty(edgeIn, 'in'),
      sentence: () => 'Far enough from the face; no plate is needed.',
    });
  }
  return makeCheck({
    id,
    title: 'Steel plate before the hole',
    clause,
    demand: qty(neededIn, 'in'),
    capacity: qty(plateIn, 'in'),
    sentence: (passes) =>
      passes
        ? 'A steel plate protects the hole.'
        : `The hole comes within 1-1/4 in of the face: it needs a steel plate of ${through.service === 'cable' ? '1/16 in' : '16 gauge (0.0575 in)'}.`,
  });
}
