import {
  makeCheck,
  notNegative,
  positive,
  qty,
  type Check,
  type Clause,
  type Editions,
} from '../trace/index.ts';
import { A36, aisc, OMEGA } from '../steel/index.ts';

/** Bolts through plies and plates, in two staggered rows near the plate's edges, or one row at mid-depth. */
export interface FlitchBolts {
  readonly diameterIn: number;
  /** From one bolt to the next along the beam, whichever row it is in. */
  readonly spacingIn: number;
  readonly rows: 1 | 2;
  /** Two rows: from the plate's edge to the bolt. */
  readonly fromPlateEdgeIn: number;
  /** Bolts at each end beyond the field spacing, stacked over the support. */
  readonly atEachEnd: number;
  /** From the beam's end to the first bolt. */
  readonly fromEndIn: number;
  /**
   * Allowable load of one bolt through the whole pack, perpendicular to grain, with every factor: the yield-limit
   * value of NDS chapter 12 for steel between wood.
   */
  readonly allowableLb: number;
}

export interface BoltDemand {
  /** The heaviest line load on the beam, lb/in. */
  readonly lineLoadLbPerIn: number;
  /** The heaviest load that lands at one point; two bolts stand by it. */
  readonly landingLb: number;
  /** The heavier reaction where the plate is held short of the support; else 0. */
  readonly endTransferLb: number;
  /** Part of the load that the steel takes, after creep of the wood. */
  readonly steelShare: number;
  readonly woodDepthIn: number;
  readonly plateDepthIn: number;
  readonly plateThicknessIn: number;
}

export interface BoltResult {
  readonly checks: readonly Check[];
  /** Field spacing at which one bolt is just full; Infinity without line load. */
  readonly spacingAllowedIn: number;
  /** Whole bolts that each end needs. */
  readonly endBoltsNeeded: number;
}

/** AISC 360 Table J3.4, smallest edge distance for a standard hole, in; from memory. */
const PLATE_EDGE_IN: readonly (readonly [boltIn: number, edgeIn: number])[] = [
  [0.5, 0.75],
  [0.625, 0.875],
  [0.75, 1],
  [0.875, 1.125],
  [1, 1.25],
];

/** Hole of a bolt, 1/16 in over (AISC 360 Table J3.3; NDS 12.1.3.2 allows 1/32 to 1/16). */
const HOLE_OVER_IN = 1 / 16;

const TRANSFER: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'one curvature: the steel takes its share of every load through the bolts',
};

/** Distance of the bolts from mid-depth. */
export function boltOffsetIn(bolts: FlitchBolts, plateDepthIn: number): number {
  return bolts.rows === 1 ? 0 : Math.max(0, plateDepthIn / 2 - bolts.fromPlateEdgeIn);
}

/** Loads on single bolts, then their distances: NDS Tables 12.5.1A–D in wood, AISC 360 J3 in the plate. */
export function boltChecks(bolts: FlitchBolts, demand: BoltDemand, editions: Editions): BoltResult {
  const diameter = positive(bolts.diameterIn, 'bolts.diameterIn');
  const spacing = positive(bolts.spacingIn, 'bolts.spacingIn');
  const steelBearing = (2.4 * diameter * demand.plateThicknessIn * A36.fuPsi) / OMEGA.boltBearing;
  const capacity = Math.min(positive(bolts.allowableLb, 'bolts.allowableLb'), steelBearing);
  const share = demand.steelShare;
  const field = notNegative(demand.lineLoadLbPerIn, 'lineLoadLbPerIn') * spacing * share;
  const bearingStep = {
    id: 'flitch.bolts.plate-bearing',
    title: 'Bearing of one bolt on the plate',
    clause: aisc(editions, 'Eq. J3-6a'),
    formula: 'Ra = 2.4 · D · t · Fu / Ω',
    values: {
      D: qty(diameter, 'in'),
      t: qty(demand.plateThicknessIn, 'in'),
      Fu: qty(A36.fuPsi, 'psi'),
      Ω: qty(OMEGA.boltBearing),
    },
    result: qty(steelBearing, 'lb'),
  };
  const checks: Check[] = [
    makeCheck({
      id: 'flitch.bolts.field',
      title: 'Load on one bolt along the beam',
      clause: TRANSFER,
      demand: qty(field, 'lb'),
      capacity: qty(capacity, 'lb'),
      steps: [
        {
          id: 'flitch.bolts.field.load',
          title: 'Load that one bolt hands to the steel',
          clause: TRANSFER,
          formula: 'P = w · s · k',
          values: { w: qty(demand.lineLoadLbPerIn, 'lb/in'), s: qty(spacing, 'in'), k: qty(share) },
          result: qty(field, 'lb'),
        },
        bearingStep,
      ],
    }),
  ];
  if (notNegative(demand.landingLb, 'landingLb') > 0) {
    checks.push(
      makeCheck({
        id: 'flitch.bolts.landing',
        title: 'Two bolts beside the landing load',
        clause: TRANSFER,
        demand: qty(demand.landingLb * share, 'lb'),
        capacity: qty(2 * capacity, 'lb'),
      }),
    );
  }
  const endLoad = notNegative(demand.endTransferLb, 'endTransferLb') * share;
  if (endLoad > 0) {
    checks.push(
      makeCheck({
        id: 'flitch.bolts.ends',
        title: 'Bolts that bring the reaction of the steel back to the wood at an end',
        clause: TRANSFER,
        demand: qty(endLoad, 'lb'),
        capacity: qty(notNegative(bolts.atEachEnd, 'bolts.atEachEnd') * capacity, 'lb'),
      }),
    );
  }
  checks.push(...distanceChecks(bolts, demand, editions));
  return {
    checks,
    spacingAllowedIn: field > 0 ? (capacity / field) * spacing : Infinity,
    endBoltsNeeded: Math.ceil(endLoad / capacity - 1e-9),
  };
}

function distanceChecks(bolts: FlitchBolts, demand: BoltDemand, editions: Editions): Check[] {
  const { diameterIn: diameter } = bolts;
  const nds = (section: string): Clause => ({
    standard: 'NDS',
    edition: editions.nds,
    section,
    provenance: 'from memory',
  });
  const distance = (id: string, title: string, clause: Clause, needed: number, there: number) =>
    makeCheck({
      id: `flitch.bolts.${id}`,
      title,
      clause,
      demand: qty(needed, 'in'),
      capacity: qty(there, 'in'),
    });
  const offset = boltOffsetIn(bolts, demand.plateDepthIn);
  const checks = [
    // Loaded edge, load perpendicular to grain: 4D; either edge may be the loaded one.
    distance(
      'wood-edge',
      'Bolt to the edge of the plies',
      nds('Table 12.5.1C'),
      4 * diameter,
      demand.woodDepthIn / 2 - offset,
    ),
    distance(
      'wood-end',
      'First bolt to the end of the plies',
      nds('Table 12.5.1A'),
      4 * diameter,
      bolts.fromEndIn,
    ),
    distance('spacing', 'Bolt to bolt', aisc(editions, 'J3.3'), (8 / 3) * diameter, bolts.spacingIn),
  ];
  const plateEdge = PLATE_EDGE_IN.find(([bolt]) => diameter <= bolt + 1e-9)?.[1] ?? 1.25 * diameter;
  checks.push(
    distance(
      'plate-edge',
      'Bolt to the edge of the plate',
      aisc(editions, 'Table J3.4'),
      plateEdge,
      demand.plateDepthIn / 2 - offset,
    ),
  );
  return checks;
}

/** Hole to take from the section: bolt + 1/16 in, and 1/16 in of damaged steel (AISC 360 B4.3b). */
export function netHoleIn(boltIn: number): number {
  return boltIn + HOLE_OVER_IN + 1 / 16;
}
