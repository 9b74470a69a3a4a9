import { governingCheck, makeCheck, qty, Refusal, type Check, type Editions } from '../../trace/index.ts';
import { mechanicsClause, practiceClause } from '../clauses.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import { comparePrescriptive, prescriptiveCheck } from './compare-prescriptive.ts';
import { distanceFindings } from './distances.ts';
import { judgeAnchor } from './judge-anchor.ts';
import { judgeBuiltUpColumn } from './judge-built-up-column.ts';
import { judgeListing } from './judge-listing.ts';
import { judgeYieldLimit } from './judge-yield-limit.ts';
import type { Findings, RowJudgement } from './judgement.ts';
import { faceWidthIn, farEdgeDistanceIn } from './placement.ts';
import { fasteningRowSchema, type FasteningRow } from './row.ts';

function judgePrescriptive(row: FasteningRow, editions: Editions): Findings {
  const check = prescriptiveCheck(row, editions);
  return {
    demand: check.demand,
    capacity: check.capacity,
    checks: [check],
    advice: distanceFindings(row, editions).advice,
    notices: [
      {
        id: `${row.id}.no-demand`,
        severity: 'note',
        text: 'No force is computed for this joint: it holds the pieces together, and the code’s own schedule is its measure.',
        clause: practiceClause('positioning nails'),
      },
    ],
  };
}

function findingsOf(row: FasteningRow, editions: Editions): Findings {
  switch (row.basis.kind) {
    case 'yield limit':
      return judgeYieldLimit(row, editions);
    case 'built-up column':
      return judgeBuiltUpColumn(row, editions);
    case 'listing':
      return judgeListing(row, editions);
    case 'anchor':
      return judgeAnchor(row, editions);
    case 'prescriptive':
      return judgePrescriptive(row, editions);
  }
}

/** The check of strength that the row is about; a nail count that is just met would hide it. */
function headline(findings: Findings): Check | undefined {
  const { demand, capacity, checks } = findings;
  const same = (check: Check): boolean =>
    check.demand.value === demand.value &&
    check.capacity.value === capacity.value &&
    check.demand.unit === demand.unit;
  return checks.find(same) ?? governingCheck(checks);
}

/** Nonsense (spacing of zero, NaN, a joint of one piece) ends here, whoever built the row. */
function refuseNonsense(row: FasteningRow): void {
  const parsed = fasteningRowSchema.safeParse(row);
  const issue = parsed.success ? undefined : parsed.error.issues[0];
  if (issue !== undefined) throw new Refusal(issue.path.map(String).join('.'), issue.message);
}

/**
 * A fastener that misses the piece holds nothing, whatever the equations give for one that is in it: its shank has to
 * lie within the face. Toe-nails and connectors place themselves. Undefined where all rows are in.
 */
function besideThePiece(row: FasteningRow): Check | undefined {
  const shankIn = dowelProperties(row.fastener).diameterIn / 2;
  const farIn = farEdgeDistanceIn(row);
  const leastIn = Math.min(row.edgeDistanceIn, farIn);
  if (row.method === 'toe' || row.basis.kind === 'listing' || leastIn >= shankIn) return undefined;
  const side = farIn < shankIn ? 'far edge' : 'edge';
  const place = leastIn < 0 ? `${(-leastIn).toFixed(2)} in beyond` : `${leastIn.toFixed(2)} in from`;
  return makeCheck({
    id: `${row.id}.${farIn < shankIn ? 'far-edge' : 'edge'}.off`,
    title: 'Rows within the face of the piece',
    clause: mechanicsClause('a fastener has to be in the piece'),
    demand: qty(shankIn, 'in'),
    capacity: qty(Math.max(0, leastIn), 'in'),
    sentence: () =>
      `A row lies ${place} the ${side} of a face of ${faceWidthIn(row).toFixed(2)} in: fewer rows, or closer together.`,
  });
}

/**
 * Demand, capacity, every check with its trace and the code's prescriptive row, for one row of the schedule.
 * @throws Refusal where the row holds nonsense or lacks what the equations need, with the path of the field
 */
export function judgeRow(row: FasteningRow, editions: Editions): RowJudgement {
  refuseNonsense(row);
  const found = findingsOf(row, editions);
  const beside = besideThePiece(row);
  const findings: Findings =
    beside === undefined
      ? found
      : {
          ...found,
          checks: [...found.checks, beside],
          advice: found.advice.filter((check) => !beside.id.startsWith(check.id)),
        };
  const failing = findings.checks.filter((check) => !check.passes);
  const governing = failing.length > 0 ? governingCheck(failing) : headline(findings);
  const prescriptive = comparePrescriptive(row, editions);
  return {
    rowId: row.id,
    ...findings,
    demand: governing?.demand ?? findings.demand,
    capacity: governing?.capacity ?? findings.capacity,
    ratio: governing?.ratio ?? 0,
    passes: failing.length === 0,
    governing,
    ...(prescriptive === undefined ? {} : { prescriptive }),
  };
}
