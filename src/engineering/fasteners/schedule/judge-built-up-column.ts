import { makeCheck, qty, type Check, type Editions, type Notice } from '../../trace/index.ts';
import {
  boltLimits,
  checkBuiltUpBolting,
  checkBuiltUpNailing,
  nailLimits,
  type BuiltUpPack,
} from '../../wood/built-up-fastening.ts';
import { ndsClause } from '../clauses.ts';
import { dowelProperties, fastenerLabel, pennyNail } from '../dowels/fastener.ts';
import { NAIL_SIZES } from '../dowels/nail-sizes.ts';
import { drivingNotices } from './judge-yield-limit.ts';
import type { Findings } from './judgement.ts';
import { faceWidthIn, farEdgeDistanceIn } from './placement.ts';
import type { FasteningRow } from './row.ts';

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
      : `the shortest common nail is ${penny}, ${fastenerLabel(pennyNail('common', penny))}`;
  return (
    `Nails must be ${leastIn.toFixed(3)} in or longer; ${nail}. Otherwise: bolts by NDS 15.3.4, structural screws ` +
    'whose report covers built-up columns, a solid post, or count each ply as a column of its own.'
  );
}

function statement(
  id: string,
  title: string,
  section: string,
  holds: boolean,
  sentence: string,
  editions: Editions,
): Check {
  return makeCheck({
    id,
    title,
    clause: ndsClause(editions, section),
    demand: qty(1, 'each'),
    capacity: qty(holds ? 1 : 0, 'each'),
    sentence: () => sentence,
  });
}

function lengthCheck(row: FasteningRow, neededIn: number, editions: Editions): Check {
  const { lengthIn } = dowelProperties(row.fastener);
  const label = fastenerLabel(row.fastener);
  const bolted = row.fastener.kind === 'bolt';
  return makeCheck({
    id: `${row.id}.length`,
    title: bolted ? 'Length through all plies' : 'Length through all plies and 3/4 of the last',
    clause: ndsClause(editions, bolted ? '15.3.4' : '15.3.3.1(b)'),
    demand: qty(neededIn, 'in'),
    capacity: qty(lengthIn, 'in'),
    sentence: (passes) =>
      passes
        ? `The ${label} is long enough for ${row.members.length} plies.`
        : `The ${label} can't reach: ${row.members.length} plies take ${neededIn.toFixed(3)} in. ${whatWouldReach(row.members.map((member) => member.thicknessIn))}`,
  });
}

function kindCheck(row: FasteningRow, editions: Editions): Check {
  const { fastener } = row;
  const byStandard = fastener.kind === 'nail' || fastener.kind === 'bolt';
  const byReport = fastener.kind === 'structural screw' && fastener.coversBuiltUpColumns;
  return statement(
    `${row.id}.kind`,
    'Kind of fastener',
    '15.3.3, 15.3.4',
    byStandard || byReport,
    byStandard
      ? 'Nails and bolts join built-up columns by NDS 15.3.'
      : byReport
        ? 'The report of this screw is declared to cover built-up columns.'
        : 'NDS 15.3 joins built-up columns by nails or bolts; a screw counts only where its report says so.',
    editions,
  );
}

/** The rules of distance, length and faces that NDS 15.3.3 or 15.3.4 sets. */
function ruleChecks(row: FasteningRow, pack: BuiltUpPack, editions: Editions): readonly Check[] {
  const { diameterIn, lengthIn } = dowelProperties(row.fastener);
  const pattern = {
    rows: row.pattern.rows,
    spacingIn: row.pattern.spacingIn,
    ...(row.pattern.rows > 1 ? { rowSpacingIn: row.pattern.rowSpacingIn } : {}),
    endDistanceIn: row.endDistanceIn,
    edgeDistanceIn: row.edgeDistanceIn,
    staggered: row.pattern.staggered,
    diameterIn,
  };
  const bolted = row.fastener.kind === 'bolt';
  const checks = bolted
    ? checkBuiltUpBolting(row.id, editions.nds, pack, { ...pattern, washers: true })
    : checkBuiltUpNailing(row.id, editions.nds, pack, {
        ...pattern,
        lengthIn,
        oppositeFaces: row.driven === 'alternating sides',
      });
  const limits = (bolted ? boltLimits : nailLimits)(pack, diameterIn);
  const farIn = farEdgeDistanceIn(row);
  const farEdge = statement(
    `${row.id}.far-edge`,
    'Edge distance, far edge',
    limits.section,
    farIn >= limits.edgeIn[0] - 1e-9 && farIn <= limits.edgeIn[1] + 1e-9,
    `The last row lies ${farIn.toFixed(2)} in from the far edge; ${limits.edgeIn[0].toFixed(2)} to ${limits.edgeIn[1].toFixed(2)} in are allowed.`,
    editions,
  );
  return [...checks.filter((check) => check.id !== `${row.id}.length`), farEdge];
}

/**
 * Does the fastening let the pack count as one built-up column (NDS 15.3.1, 15.3.3, 15.3.4)? All checks must
 * pass for Kf 0.6 (nails) or 0.75 (bolts); otherwise each ply is a column of its own.
 */
export function judgeBuiltUpColumn(row: FasteningRow, editions: Editions): Findings {
  const { lengthIn } = dowelProperties(row.fastener);
  const thicknesses = row.members.map((member) => member.thicknessIn);
  const thinnestIn = Math.min(...thicknesses);
  const gapsIn = row.betweenIn * (row.members.length - 1);
  const packIn = thicknesses.reduce((sum, thickness) => sum + thickness, 0) + gapsIn;
  const neededIn = row.fastener.kind === 'bolt' ? packIn : leastColumnNailIn(thicknesses) + gapsIn;
  const sound =
    row.members.length <= 5 &&
    thinnestIn >= 1.5 &&
    gapsIn === 0 &&
    new Set(row.members.map((member) => member.widthIn)).size === 1;
  const checks: Check[] = [
    lengthCheck(row, neededIn, editions),
    statement(
      `${row.id}.plies`,
      'Number and make of plies',
      '15.3.1',
      sound,
      'A built-up column has two to five plies of one depth, each 1-1/2 in or thicker, faces in contact.',
      editions,
    ),
    kindCheck(row, editions),
  ];
  if (sound) {
    const pack = { plies: row.members.length, plyThicknessIn: thinnestIn, plyDepthIn: faceWidthIn(row) };
    checks.push(...ruleChecks(row, pack, editions));
  }
  const notices: Notice[] = [...drivingNotices(row, Math.max(0, lengthIn - packIn), editions)];
  if (row.fastener.kind === 'bolt') {
    notices.push({
      id: `${row.id}.washers`,
      severity: 'note',
      text: 'A plate or washer under every head and nut, nuts drawn tight so that the plies touch.',
      clause: ndsClause(editions, '15.3.4'),
    });
  }
  if (checks.some((check) => !check.passes)) {
    notices.push({
      id: `${row.id}.each-ply-alone`,
      severity: 'caution',
      text: `As fastened, the pack does not count as one column: each ply stands alone. ${whatWouldReach(thicknesses)}`,
      clause: ndsClause(editions, '15.3'),
    });
  }
  return { demand: qty(neededIn, 'in'), capacity: qty(lengthIn, 'in'), checks, advice: [], notices };
}
