import {
  makeCheck,
  qty,
  refuseUnless,
  type Check,
  type Editions,
  type Notice,
  type Step,
} from '../../trace/index.ts';
import { preBore } from '../adjustments/pre-bore.ts';
import { declaredClause, mechanicsClause, ndsClause, practiceClause } from '../clauses.ts';
import { fastenerLabel } from '../dowels/fastener.ts';
import { referenceLateral, type ReferenceLateral, type ShearPlane } from '../dowels/lateral.ts';
import { penetrationRule } from '../dowels/penetration.ts';
import { combinedResistanceLb, pullThroughOf, referenceWithdrawal } from '../dowels/withdrawal.ts';
import { adjustedLateral, adjustedWithdrawal, rowGroupFactor } from './adjusted-values.ts';
import { distanceFindings } from './distances.ts';
import type { Findings } from './judgement.ts';
import type { FasteningRow, RowMember } from './row.ts';

function memberAt(row: FasteningRow, index: number): RowMember {
  const member = row.members[index];
  refuseUnless(member !== undefined, `members.${index}`, 'The joint lacks a piece.');
  return member;
}

/** The shear planes of a row: one between each two neighbours, or one symmetric double-shear joint. */
export function shearPlanesOf(row: FasteningRow): readonly (ShearPlane & { readonly index: number })[] {
  const common = { fastener: row.fastener, method: row.method, path: row.id };
  if (row.basis.kind === 'yield limit' && row.basis.shear === 'double') {
    return [
      {
        ...common,
        side: memberAt(row, 0),
        main: memberAt(row, 1),
        farSide: memberAt(row, 2),
        aheadIn: row.betweenIn,
        index: 0,
      },
    ];
  }
  let aheadIn = row.betweenIn;
  const planes: (ShearPlane & { readonly index: number })[] = [];
  for (let index = 0; index + 1 < row.members.length; index += 1) {
    const side = memberAt(row, index);
    planes.push({ ...common, side, main: memberAt(row, index + 1), aheadIn, index });
    if (row.layup === 'through') aheadIn += side.thicknessIn + row.betweenIn;
  }
  return planes;
}

/** Fasteners that share the demand: in the joint, or per foot of a spaced pattern. */
export function sharingCount(row: FasteningRow): number {
  return row.pattern.kind === 'count' ? row.pattern.count : (row.pattern.rows * 12) / row.pattern.spacingIn;
}

/** Lateral and withdrawal demand in the row's own unit: lb for the joint, or lb per foot. */
function forces(row: FasteningRow): { lateral: number; withdrawal: number; unit: 'lb' | 'plf' } {
  const { demand } = row;
  switch (demand.per) {
    case 'joint':
      return { lateral: demand.lateralLb, withdrawal: demand.withdrawalLb, unit: 'lb' };
    case 'foot':
      return { lateral: demand.lateralPlf, withdrawal: demand.withdrawalPlf, unit: 'plf' };
    case 'connector':
      return { lateral: demand.downLb, withdrawal: demand.upLb, unit: 'lb' };
    case 'none':
      return { lateral: 0, withdrawal: 0, unit: row.pattern.kind === 'count' ? 'lb' : 'plf' };
  }
}

function penetrationCheck(row: FasteningRow, worst: ReferenceLateral, editions: Editions): Check | undefined {
  const rule = penetrationRule(row.fastener);
  if (rule === undefined) return undefined;
  const neededIn = worst.leastPenetrationIn;
  const thereIn = worst.penetration.penetrationIn;
  return makeCheck({
    id: `${row.id}.penetration`,
    title: 'Penetration into the holding piece',
    clause: ndsClause(editions, rule.section),
    demand: qty(neededIn, 'in'),
    capacity: qty(thereIn, 'in'),
    sentence: (passes) =>
      passes
        ? `The point enters ${thereIn.toFixed(2)} in; ${rule.least} D is ${neededIn.toFixed(2)} in, full value from ${rule.full} D = ${(neededIn * (rule.full / rule.least)).toFixed(2)} in.`
        : `The point enters only ${thereIn.toFixed(2)} in of the ${neededIn.toFixed(2)} in (${rule.least} D) it needs: this fastener does not count. Take a longer one.`,
  });
}

/** A bolt must pass every piece and still take its nut, about one diameter high (common practice). */
function boltLengthCheck(row: FasteningRow): Check | undefined {
  const last = row.members[row.members.length - 1];
  if (row.fastener.kind !== 'bolt' || last?.material === 'concrete') return undefined;
  const piecesIn = row.members.reduce((sum, member) => sum + member.thicknessIn, 0);
  const neededIn = piecesIn + row.betweenIn * (row.members.length - 1) + row.fastener.diameterIn;
  return makeCheck({
    id: `${row.id}.length`,
    title: 'Length of the bolt through all pieces and its nut',
    clause: practiceClause('nut one diameter high'),
    demand: qty(neededIn, 'in'),
    capacity: qty(row.fastener.lengthIn, 'in'),
  });
}

/** Length and boring: what the one with the hammer must know. */
export function drivingNotices(
  row: FasteningRow,
  protrudesIn: number,
  editions: Editions,
): readonly Notice[] {
  const notices: Notice[] = [];
  const label = fastenerLabel(row.fastener);
  if (protrudesIn > 0.01 && row.fastener.kind !== 'bolt') {
    notices.push({
      id: `${row.id}.protrudes`,
      severity: 'caution',
      text: `The point of the ${label} comes out ${protrudesIn.toFixed(2)} in behind: choose a shorter one, or turn the points over where nobody can touch them.`,
    });
  }
  const gravities = row.members.flatMap((member) => member.specificGravity ?? []);
  if (gravities.length === 0) return notices;
  const bore = preBore(row.fastener, Math.max(...gravities));
  if (bore.required && !row.prebored) {
    const hole =
      bore.clearanceIn === undefined
        ? `a ${bore.leadIn.toFixed(3)} in hole`
        : `${bore.leadIn.toFixed(3)} in in the holding piece and ${bore.clearanceIn.toFixed(3)} in in the outer one`;
    notices.push({
      id: `${row.id}.pre-bore`,
      severity: 'caution',
      text: `The values hold for bored holes: ${hole} for the ${label}. Mark the row as pre-bored.`,
      clause: ndsClause(editions, bore.section, 'from memory'),
    });
  }
  return notices;
}

interface LateralOutcome {
  readonly check: Check;
  readonly penetration: Check | undefined;
  readonly perFastenerLb: number;
  readonly protrudesIn: number;
}

/** Where the point shows: behind the last piece, or before the next one is laid on. */
function comesOutIn(row: FasteningRow, index: number, reference: ReferenceLateral): number {
  const { protrudesIn } = reference.penetration;
  if (row.layup === 'each to the next' && row.driven === 'one side') return protrudesIn;
  const beyond = row.members
    .slice(index + 2)
    .reduce((sum, member) => sum + member.thicknessIn + row.betweenIn, 0);
  return Math.max(0, protrudesIn - beyond);
}

function lateralOutcome(row: FasteningRow, geometryFactor: number, editions: Editions): LateralOutcome {
  let worst:
    { reference: ReferenceLateral; valueLb: number; steps: readonly Step[]; index: number } | undefined;
  let protrudesIn = 0;
  let shallowest: ReferenceLateral | undefined;
  for (const plane of shearPlanesOf(row)) {
    const reference = referenceLateral(plane, editions);
    const group = rowGroupFactor(row, plane.index, plane.index + 1);
    const adjusted = adjustedLateral(row, reference.zLb, group, geometryFactor, editions);
    protrudesIn = Math.max(protrudesIn, comesOutIn(row, plane.index, reference));
    if (
      shallowest === undefined ||
      reference.penetration.penetrationIn < shallowest.penetration.penetrationIn
    ) {
      shallowest = reference;
    }
    if (worst === undefined || adjusted.valueLb < worst.valueLb) {
      worst = {
        reference,
        valueLb: adjusted.valueLb,
        steps: [...reference.steps, adjusted.step],
        index: plane.index,
      };
    }
  }
  refuseUnless(worst !== undefined && shallowest !== undefined, 'members', 'The joint lacks a piece.');
  const { lateral, unit } = forces(row);
  const count = sharingCount(row);
  const capacity = worst.valueLb * count;
  const between =
    row.members.length > 2
      ? ` (between ${memberAt(row, worst.index).name} and ${memberAt(row, worst.index + 1).name})`
      : '';
  const check = makeCheck({
    id: `${row.id}.lateral`,
    title: `Lateral load${between}`,
    clause: ndsClause(editions, '12.3'),
    demand: qty(lateral, unit),
    capacity: qty(capacity, unit),
    governing: row.demand.combination,
    steps: [
      ...worst.steps,
      {
        id: `${row.id}.n`,
        title: unit === 'lb' ? 'All fasteners of the joint' : 'All fasteners in one foot',
        clause: mechanicsClause('sum of equal fasteners'),
        formula: 'R = n · Z′',
        values: { n: qty(count, 'each'), 'Z′': qty(worst.valueLb, 'lb') },
        result: qty(capacity, unit),
      },
    ],
  });
  return {
    check,
    penetration: penetrationCheck(row, shallowest, editions),
    perFastenerLb: worst.valueLb,
    protrudesIn,
  };
}

function withdrawalChecks(
  row: FasteningRow,
  lateralPerFastenerLb: number,
  editions: Editions,
): readonly Check[] {
  const { lateral, withdrawal, unit } = forces(row);
  if (withdrawal <= 0) return [];
  const planes = shearPlanesOf(row);
  const last = planes[planes.length - 1];
  refuseUnless(last !== undefined, 'members', 'The joint lacks a piece.');
  const reference = referenceWithdrawal(last, editions);
  const steps: Step[] = [...reference.steps];
  const pullThroughLb = pullThroughOf(row.fastener, memberAt(row, 0), row.id);
  let referenceLb = reference.totalLb;
  if (pullThroughLb !== undefined && pullThroughLb < referenceLb) {
    referenceLb = pullThroughLb;
    steps.push({
      id: `${row.id}.WH`,
      title: 'Head pull-through governs',
      clause:
        row.fastener.kind === 'structural screw'
          ? declaredClause(row.fastener.report)
          : ndsClause(editions, '12.2.5', 'from memory'),
      formula: 'WH = 690 · π · DH · G² · t',
      values: { t: qty(memberAt(row, 0).thicknessIn, 'in') },
      result: qty(pullThroughLb, 'lb'),
    });
  }
  const adjusted = adjustedWithdrawal(row, referenceLb, editions);
  const count = sharingCount(row);
  const checks = [
    makeCheck({
      id: `${row.id}.withdrawal`,
      title: 'Withdrawal',
      clause: ndsClause(editions, '12.2'),
      demand: qty(withdrawal, unit),
      capacity: qty(adjusted.valueLb * count, unit),
      governing: row.demand.combination,
      steps: [...steps, adjusted.step],
      ...(reference.perInchLb === 0
        ? {
            sentence: () =>
              `Nails and wood screws in end grain hold nothing in withdrawal (NDS 12.2): ${Math.round(withdrawal)} ${unit} needs a strap or a cap.`,
          }
        : {}),
    }),
  ];
  if (lateral > 0) {
    const angleDeg = (Math.atan2(withdrawal, lateral) * 180) / Math.PI;
    const perFastenerLb = combinedResistanceLb(
      row.fastener,
      lateralPerFastenerLb,
      adjusted.valueLb,
      angleDeg,
    );
    const resultant = Math.hypot(lateral, withdrawal);
    checks.push(
      makeCheck({
        id: `${row.id}.combined`,
        title: 'Lateral load and withdrawal together',
        clause: ndsClause(editions, '12.4'),
        demand: qty(resultant, unit),
        capacity: qty(perFastenerLb * count, unit),
        governing: row.demand.combination,
        steps: [
          {
            id: `${row.id}.Zalpha`,
            title: 'Resistance of one fastener at the angle of the load',
            clause: ndsClause(editions, row.fastener.kind === 'lag screw' ? 'Eq. 12.4-1' : 'Eq. 12.4-2'),
            formula:
              row.fastener.kind === 'lag screw'
                ? 'Zα′ = W′p · Z′ / (W′p · cos²α + Z′ · sin²α)'
                : 'Zα′ = W′p · Z′ / (W′p · cos α + Z′ · sin α)',
            values: {
              'W′p': qty(adjusted.valueLb, 'lb'),
              'Z′': qty(lateralPerFastenerLb, 'lb'),
              α: qty(angleDeg, 'deg'),
            },
            result: qty(perFastenerLb, 'lb'),
          },
        ],
      }),
    );
  }
  return checks;
}

/** Judges a row by NDS chapter 12: lateral, withdrawal, both together, penetration and distances. */
export function judgeYieldLimit(row: FasteningRow, editions: Editions): Findings {
  const distances = distanceFindings(row, editions);
  const lateral = lateralOutcome(row, distances.geometryFactor, editions);
  const checks: Check[] = [lateral.check];
  if (lateral.penetration !== undefined) checks.push(lateral.penetration);
  const boltLength = boltLengthCheck(row);
  if (boltLength !== undefined) checks.push(boltLength);
  const withdrawal = withdrawalChecks(row, lateral.perFastenerLb, editions);
  checks.push(...withdrawal, ...distances.checks);
  const combined = withdrawal.find((check) => check.id.endsWith('.combined'));
  const pure = withdrawal[0];
  const shown = combined ?? (lateral.check.demand.value > 0 || pure === undefined ? lateral.check : pure);
  const notices: Notice[] = [...drivingNotices(row, lateral.protrudesIn, editions)];
  if (row.betweenIn > 0) {
    notices.push({
      id: `${row.id}.between`,
      severity: 'caution',
      text: `The equations suppose faces in contact. The ${row.betweenIn} in between must itself be fastened tight to the holding piece; gypsum or a shim does not qualify.`,
      clause: ndsClause(editions, '12.3.1', 'from memory'),
    });
  }
  return { demand: shown.demand, capacity: shown.capacity, checks, advice: distances.advice, notices };
}
