import { makeCheck, qty, type Check, type Clause, type Editions } from '../../trace/index.ts';
import {
  distanceFactor,
  edgeDistanceMultiple,
  endDistanceRule,
  rowSpacingMultiple,
  SPACING_IN_ROW_RULE,
} from '../adjustments/geometry-factor.ts';
import { recommendedNailSpacing } from '../adjustments/nail-spacing.ts';
import { ndsClause } from '../clauses.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import { countPerRow, farEdgeDistanceIn } from './placement.ts';
import type { FasteningRow } from './row.ts';

export interface DistanceFindings {
  readonly checks: readonly Check[];
  readonly advice: readonly Check[];
  /** CΔ of NDS 12.5.1; 1 below 1/4 in. */
  readonly geometryFactor: number;
}

function distance(id: string, title: string, clause: Clause, neededIn: number, thereIn: number): Check {
  return makeCheck({
    id,
    title,
    clause,
    demand: qty(neededIn, 'in'),
    capacity: qty(Math.max(0, thereIn), 'in'),
    sentence: (passes) =>
      passes
        ? `${title}: ${thereIn.toFixed(2)} in where ${neededIn.toFixed(2)} in is called for.`
        : `${title}: ${thereIn.toFixed(2)} in is less than the ${neededIn.toFixed(2)} in called for.`,
  });
}

/** Smallest spacing within a row that there is: two neighbours, or none. */
function hasNeighbours(row: FasteningRow): boolean {
  return countPerRow(row) > 1;
}

function smallFasteners(row: FasteningRow, editions: Editions): DistanceFindings {
  const { diameterIn } = dowelProperties(row.fastener);
  const steelSide = row.members[0]?.material === 'steel';
  const rule = recommendedNailSpacing(steelSide, row.prebored);
  const clause = ndsClause(editions, 'Commentary Table C12.1.6.6', 'from memory');
  const end = row.endLoading === 'tension' ? rule.endTension : rule.endCompression;
  const advice = [
    distance(`${row.id}.edge`, 'Edge distance', clause, rule.edge * diameterIn, row.edgeDistanceIn),
    distance(
      `${row.id}.far-edge`,
      'Edge distance, far edge',
      clause,
      rule.edge * diameterIn,
      farEdgeDistanceIn(row),
    ),
    distance(`${row.id}.end`, 'End distance', clause, end * diameterIn, row.endDistanceIn),
  ];
  if (hasNeighbours(row)) {
    advice.push(
      distance(
        `${row.id}.spacing`,
        'Spacing in a row',
        clause,
        rule.inRow * diameterIn,
        row.pattern.spacingIn,
      ),
    );
  }
  if (row.pattern.rows > 1) {
    const rows = row.pattern.staggered ? rule.betweenRowsStaggered : rule.betweenRowsInLine;
    advice.push(
      distance(`${row.id}.rows`, 'Spacing between rows', clause, rows * diameterIn, row.pattern.rowSpacingIn),
    );
  }
  return { checks: [], advice, geometryFactor: 1 };
}

/** An edge is a loaded one (NDS Table 12.5.1C) where something presses toward it; a row without lateral load has none. */
function loadsAnEdge({ demand }: FasteningRow): boolean {
  switch (demand.per) {
    case 'joint':
      return demand.lateralLb > 0;
    case 'foot':
      return demand.lateralPlf > 0;
    case 'connector':
      return true;
    case 'none':
      return false;
  }
}

/**
 * Edge, end, row and spacing distances of the row. From 1/4 in they are rules with a geometry factor
 * (NDS 12.5.1); for nails and small screws they are the commentary's advice against splitting.
 * Toe-nails and connectors place themselves and are not measured here.
 */
export function distanceFindings(row: FasteningRow, editions: Editions): DistanceFindings {
  if (row.method === 'toe') return { checks: [], advice: [], geometryFactor: 1 };
  const { diameterIn } = dowelProperties(row.fastener);
  if (diameterIn < 0.25) return smallFasteners(row, editions);
  const wood = row.members.filter((member) => member.material === 'wood');
  const slenderness = Math.min(...wood.map((member) => member.thicknessIn)) / diameterIn;
  const clause = (section: string): Clause => ndsClause(editions, section, 'from memory');
  const endRule = endDistanceRule(row.endLoading);
  const edge = edgeDistanceMultiple(
    row.endLoading,
    loadsAnEdge(row),
    slenderness,
    row.pattern.rowSpacingIn,
    diameterIn,
  );
  const farEdge = edgeDistanceMultiple(
    row.endLoading,
    false,
    slenderness,
    row.pattern.rowSpacingIn,
    diameterIn,
  );
  const acrossRows = row.loadRuns === 'across rows';
  const checks = [
    distance(
      `${row.id}.end`,
      'End distance',
      clause(endRule.section),
      endRule.least * diameterIn,
      row.endDistanceIn,
    ),
    distance(
      `${row.id}.edge`,
      'Edge distance',
      clause('Table 12.5.1C'),
      edge * diameterIn,
      row.edgeDistanceIn,
    ),
    distance(
      `${row.id}.far-edge`,
      'Edge distance, far edge',
      clause('Table 12.5.1C'),
      farEdge * diameterIn,
      farEdgeDistanceIn(row),
    ),
  ];
  let geometryFactor = distanceFactor(row.endDistanceIn, endRule, diameterIn);
  // A "row" of the standard is a line of fasteners in the direction of the load (NDS 11.3.6.2).
  const inRowIn = acrossRows ? row.pattern.rowSpacingIn : row.pattern.spacingIn;
  const betweenIn = acrossRows ? row.pattern.spacingIn : row.pattern.rowSpacingIn;
  const inRowExists = acrossRows ? row.pattern.rows > 1 : hasNeighbours(row);
  const betweenExists = acrossRows ? hasNeighbours(row) : row.pattern.rows > 1;
  if (inRowExists) {
    checks.push(
      distance(
        `${row.id}.spacing`,
        'Spacing in the direction of the load',
        clause(SPACING_IN_ROW_RULE.section),
        SPACING_IN_ROW_RULE.least * diameterIn,
        inRowIn,
      ),
    );
    geometryFactor = Math.min(geometryFactor, distanceFactor(inRowIn, SPACING_IN_ROW_RULE, diameterIn));
  }
  if (betweenExists) {
    checks.push(
      distance(
        `${row.id}.rows`,
        'Spacing between lines of the load',
        clause('Table 12.5.1D'),
        rowSpacingMultiple(row.endLoading, slenderness) * diameterIn,
        betweenIn,
      ),
    );
  }
  return { checks, advice: [], geometryFactor };
}
