import { makeCheck, qty, type Check, type Editions, type Notice } from '../../trace/index.ts';
import { ndsClause } from '../clauses.ts';
import { dowelProperties, fastenerLabel, pennyNail } from '../dowels/fastener.ts';
import { NAIL_SIZES } from '../dowels/nail-sizes.ts';
import { drivingNotices } from './judge-yield-limit.ts';
import type { Findings } from './judgement.ts';
import { countPerRow, faceWidthIn, farEdgeDistanceIn } from './placement.ts';
import type { FasteningRow } from './row.ts';

/** What NDS 15.3.3 / 15.3.4 let the distances be, in. */
interface Band {
  readonly leastIn: number;
  readonly mostIn: number;
}

export interface BuiltUpLimits {
  readonly end: Band;
  readonly spacing: Band;
  readonly rowSpacing: Band;
  readonly edge: Band;
  /** Rows needed: two or more where the pieces are deeper than three times their thickness. */
  readonly leastRows: number;
}

/** Nails: 15–18 D, 20 D–6 t, 10–20 D, 5–20 D (NDS 15.3.3.1). */
export function nailedColumnLimits(diameterIn: number, thinnestIn: number, depthIn: number): BuiltUpLimits {
  return {
    end: { leastIn: 15 * diameterIn, mostIn: 18 * diameterIn },
    spacing: { leastIn: 20 * diameterIn, mostIn: 6 * thinnestIn },
    rowSpacing: { leastIn: 10 * diameterIn, mostIn: 20 * diameterIn },
    edge: { leastIn: 5 * diameterIn, mostIn: 20 * diameterIn },
    leastRows: depthIn > 3 * thinnestIn ? 2 : 1,
  };
}

/** Bolts in softwood: 7–8.4 D, 4 D–6 t, 1.5–10 D, 1.5–10 D (NDS 15.3.4.1, from memory). */
export function boltedColumnLimits(diameterIn: number, thinnestIn: number, depthIn: number): BuiltUpLimits {
  return {
    end: { leastIn: 7 * diameterIn, mostIn: 8.4 * diameterIn },
    spacing: { leastIn: 4 * diameterIn, mostIn: 6 * thinnestIn },
    rowSpacing: { leastIn: 1.5 * diameterIn, mostIn: 10 * diameterIn },
    edge: { leastIn: 1.5 * diameterIn, mostIn: 10 * diameterIn },
    leastRows: depthIn > 3 * thinnestIn ? 2 : 1,
  };
}

/** Shortest nail that passes all plies but the last and 3/4 of that, in (NDS 15.3.3.1(b)). */
export function leastColumnNailIn(thicknessesIn: readonly number[]): number {
  const last = thicknessesIn[thicknessesIn.length - 1] ?? 0;
  return thicknessesIn.reduce((sum, thickness) => sum + thickness, 0) - last / 4;
}

/** The shortest common nail that reaches, by penny; undefined where even 60d does not. */
export function shortestCommonColumnNail(thicknessesIn: readonly number[]): string | undefined {
  const leastIn = leastColumnNailIn(thicknessesIn);
  return NAIL_SIZES.common.find((size) => size.lengthIn >= leastIn - 1e-9)?.penny;
}

/** One sentence: what joins a pack that the usual nail does not. */
export function whatWouldReach(thicknessesIn: readonly number[]): string {
  const leastIn = leastColumnNailIn(thicknessesIn);
  const penny = shortestCommonColumnNail(thicknessesIn);
  const nail =
    penny === undefined
      ? 'no common nail is long enough'
      : `the shortest common nail is ${penny} (${fastenerLabel(pennyNail('common', penny))})`;
  return (
    `Nails must be ${leastIn.toFixed(3)} in or longer; ${nail}. Otherwise: bolts by NDS 15.3.4, structural screws ` +
    'whose report covers built-up columns, a solid post, or count each ply as a column of its own.'
  );
}

function within(
  id: string,
  title: string,
  section: string,
  valueIn: number,
  band: Band,
  editions: Editions,
): Check[] {
  const clause = ndsClause(editions, section);
  const range = `${band.leastIn.toFixed(2)} to ${band.mostIn.toFixed(2)} in`;
  const say = (passes: boolean): string =>
    `${title}: ${valueIn.toFixed(2)} in ${passes ? 'lies within' : 'must lie within'} ${range}.`;
  return [
    makeCheck({
      id: `${id}-least`,
      title,
      clause,
      demand: qty(band.leastIn, 'in'),
      capacity: qty(Math.max(0, valueIn), 'in'),
      sentence: say,
    }),
    makeCheck({
      id: `${id}-most`,
      title,
      clause,
      demand: qty(Math.max(0, valueIn), 'in'),
      capacity: qty(band.mostIn, 'in'),
      sentence: say,
    }),
  ];
}

function lengthCheck(row: FasteningRow, editions: Editions): Check {
  const thicknesses = row.members.map((member) => member.thicknessIn);
  const gaps = row.betweenIn * (row.members.length - 1);
  const neededIn = leastColumnNailIn(thicknesses) + gaps;
  const { lengthIn } = dowelProperties(row.fastener);
  const label = fastenerLabel(row.fastener);
  return makeCheck({
    id: `${row.id}.length`,
    title: 'Length through all plies and 3/4 of the last',
    clause: ndsClause(editions, '15.3.3.1(b)'),
    demand: qty(neededIn, 'in'),
    capacity: qty(lengthIn, 'in'),
    sentence: (passes) =>
      passes
        ? `The ${label} passes every ply and at least 3/4 of the last.`
        : `The ${label} can't reach 3/4 of the last of ${row.members.length} plies. ${whatWouldReach(thicknesses)}`,
  });
}

function statement(
  row: FasteningRow,
  id: string,
  title: string,
  section: string,
  holds: boolean,
  sentence: string,
  editions: Editions,
): Check {
  return makeCheck({
    id: `${row.id}.${id}`,
    title,
    clause: ndsClause(editions, section),
    demand: qty(1, 'each'),
    capacity: qty(holds ? 1 : 0, 'each'),
    sentence: () => sentence,
  });
}

/**
 * Does the fastening let the pack count as one built-up column (NDS 15.3.1, 15.3.3, 15.3.4)? All checks must
 * pass for Kf 0.6 (nails) or 0.75 (bolts); otherwise each ply is a column of its own.
 */
export function judgeBuiltUpColumn(row: FasteningRow, editions: Editions): Findings {
  const { diameterIn, lengthIn } = dowelProperties(row.fastener);
  const thicknesses = row.members.map((member) => member.thicknessIn);
  const thinnestIn = Math.min(...thicknesses);
  const depthIn = faceWidthIn(row);
  const bolted = row.fastener.kind === 'bolt';
  const section = bolted ? '15.3.4.1' : '15.3.3.1';
  const limits = (bolted ? boltedColumnLimits : nailedColumnLimits)(diameterIn, thinnestIn, depthIn);
  const screws = row.fastener.kind !== 'nail' && !bolted;
  const covered = row.fastener.kind === 'structural screw' && row.fastener.coversBuiltUpColumns;
  const checks: Check[] = [
    statement(
      row,
      'plies',
      'Number and thickness of plies',
      '15.3.1',
      row.members.length <= 5 &&
        thinnestIn >= 1.5 &&
        new Set(row.members.map((member) => member.widthIn)).size === 1,
      'A built-up column has two to five plies of one depth, each 1-1/2 in or thicker.',
      editions,
    ),
    statement(
      row,
      'kind',
      'Kind of fastener',
      '15.3.3, 15.3.4',
      !screws || covered,
      screws
        ? covered
          ? 'The report of this screw is declared to cover built-up columns.'
          : 'NDS 15.3 joins built-up columns by nails or bolts; a screw counts only where its report says so.'
        : `Joined by ${bolted ? 'bolts with washers, nuts drawn tight (15.3.4)' : 'nails (15.3.3)'}.`,
      editions,
    ),
  ];
  const gaps = row.betweenIn * (row.members.length - 1);
  const packIn = thicknesses.reduce((sum, thickness) => sum + thickness, 0) + gaps;
  if (bolted) {
    checks.push(
      makeCheck({
        id: `${row.id}.length`,
        title: 'Length through all plies',
        clause: ndsClause(editions, '15.3.4.1'),
        demand: qty(packIn, 'in'),
        capacity: qty(lengthIn, 'in'),
      }),
    );
  } else {
    checks.push(
      lengthCheck(row, editions),
      statement(
        row,
        'faces',
        'Neighbouring nails from opposite faces',
        '15.3.3.1(a)',
        row.driven === 'alternating sides',
        row.driven === 'alternating sides'
          ? 'Neighbouring nails are driven from opposite faces.'
          : 'Neighbouring nails must be driven from opposite faces of the pack.',
        editions,
      ),
    );
  }
  checks.push(
    ...within(`${row.id}.end`, 'End distance', section, row.endDistanceIn, limits.end, editions),
    ...within(`${row.id}.edge`, 'Edge distance', section, row.edgeDistanceIn, limits.edge, editions),
    ...within(
      `${row.id}.far-edge`,
      'Edge distance, far edge',
      section,
      farEdgeDistanceIn(row),
      limits.edge,
      editions,
    ),
  );
  if (countPerRow(row) > 1) {
    checks.push(
      ...within(
        `${row.id}.spacing`,
        'Spacing in a row',
        section,
        row.pattern.spacingIn,
        limits.spacing,
        editions,
      ),
    );
  }
  checks.push(
    makeCheck({
      id: `${row.id}.row-count`,
      title: 'Rows of fasteners',
      clause: ndsClause(editions, section),
      demand: qty(limits.leastRows, 'each'),
      capacity: qty(row.pattern.rows, 'each'),
    }),
  );
  if (row.pattern.rows > 1) {
    checks.push(
      ...within(
        `${row.id}.row-spacing`,
        'Spacing between rows',
        section,
        row.pattern.rowSpacingIn,
        limits.rowSpacing,
        editions,
      ),
    );
  }
  if (!bolted && (row.pattern.rows === 1 || row.pattern.rows > 2)) {
    checks.push(
      statement(
        row,
        'stagger',
        'Stagger',
        section,
        row.pattern.staggered,
        'A single row, and three rows or more, are staggered.',
        editions,
      ),
    );
  }
  const notices: Notice[] = [...drivingNotices(row, Math.max(0, lengthIn - packIn), editions)];
  if (checks.some((check) => !check.passes)) {
    notices.push({
      id: `${row.id}.each-ply-alone`,
      severity: 'caution',
      text: `As fastened, the pack does not count as one column: each ply stands alone (NDS 15.3). ${whatWouldReach(thicknesses)}`,
      clause: ndsClause(editions, '15.3'),
    });
  }
  const length = checks.find((check) => check.id === `${row.id}.length`);
  return {
    demand: length?.demand ?? qty(packIn, 'in'),
    capacity: length?.capacity ?? qty(lengthIn, 'in'),
    checks,
    advice: [],
    notices,
  };
}
