import { makeCheck, qty, refuseUnless, type Check, type Editions } from '../../trace/index.ts';
import { declaredClause, ircClause } from '../clauses.ts';
import { judgeYieldLimit } from './judge-yield-limit.ts';
import type { Findings } from './judgement.ts';
import { countPerRow, totalCount } from './placement.ts';
import type { DeclaredAnchor, FasteningRow } from './row.ts';

/** Where both act, the sum of the two shares may reach 1.2 (ACI 318-19 17.8.3, from memory). */
const TRILINEAR_LIMIT = 1.2;
/** A share of this or less leaves the other at its full value (ACI 318-19 17.8.1). */
const SMALL_SHARE = 0.2;

function concreteChecks(
  row: FasteningRow,
  declared: DeclaredAnchor,
  shearLb: number,
  tensionLb: number,
): readonly Check[] {
  const clause = declaredClause(declared.report);
  const count = totalCount(row);
  const shear = declared.shearLb * count;
  const tension = declared.tensionLb * count;
  const checks = [
    makeCheck({
      id: `${row.id}.concrete-shear`,
      title: 'Anchor in concrete, shear',
      clause,
      demand: qty(shearLb, 'lb'),
      capacity: qty(shear, 'lb'),
    }),
    makeCheck({
      id: `${row.id}.concrete-tension`,
      title: 'Anchor in concrete, tension',
      clause,
      demand: qty(tensionLb, 'lb'),
      capacity: qty(tension, 'lb'),
    }),
  ];
  const shearShare = shear > 0 ? shearLb / shear : 0;
  const tensionShare = tension > 0 ? tensionLb / tension : 0;
  if (shearShare > SMALL_SHARE && tensionShare > SMALL_SHARE) {
    checks.push(
      makeCheck({
        id: `${row.id}.concrete-both`,
        title: 'Anchor in concrete, shear and tension together',
        clause: { standard: 'ACI 318', edition: '318-19', section: '17.8.3', provenance: 'from memory' },
        demand: qty(shearShare + tensionShare),
        capacity: qty(TRILINEAR_LIMIT),
      }),
    );
  }
  const concrete = row.members[row.members.length - 1];
  checks.push(
    makeCheck({
      id: `${row.id}.concrete-thickness`,
      title: 'Concrete thickness that the report asks for',
      clause,
      demand: qty(declared.leastConcreteThicknessIn, 'in'),
      capacity: qty(concrete?.thicknessIn ?? 0, 'in'),
    }),
    makeCheck({
      id: `${row.id}.concrete-embedment`,
      title: 'Embedment',
      clause,
      demand: qty(declared.leastEmbedmentIn, 'in'),
      capacity: qty(Math.max(0, embedmentIn(row)), 'in'),
    }),
    makeCheck({
      id: `${row.id}.concrete-edge`,
      title: 'Distance to the edge of the concrete',
      clause,
      demand: qty(declared.leastEdgeIn, 'in'),
      capacity: qty(row.basis.kind === 'anchor' ? row.basis.concreteEdgeIn : 0, 'in'),
    }),
  );
  if (countPerRow(row) > 1) {
    checks.push(
      makeCheck({
        id: `${row.id}.concrete-spacing`,
        title: 'Spacing of anchors',
        clause,
        demand: qty(declared.leastSpacingIn, 'in'),
        capacity: qty(row.pattern.spacingIn, 'in'),
      }),
    );
  }
  return checks;
}

/** Length of the anchor beyond the plates, in. */
function embedmentIn(row: FasteningRow): number {
  const plates = row.members.slice(0, -1).reduce((sum, member) => sum + member.thicknessIn, 0);
  const length = row.fastener.kind === 'wood screw' ? 0 : row.fastener.lengthIn;
  return length - plates - row.betweenIn;
}

/**
 * Anchors of a sole plate: the bolt's bearing in the plate by the yield equations with concrete as the main
 * member (NDS Table 12E), tension and the concrete side by declared values. Nothing declared: it fails.
 */
export function judgeAnchor(row: FasteningRow, editions: Editions): Findings {
  const { demand } = row;
  const shearLb = demand.per === 'joint' ? demand.lateralLb : 0;
  const tensionLb = demand.per === 'joint' ? demand.withdrawalLb : 0;
  const deepIn = embedmentIn(row);
  refuseUnless(
    deepIn > 0,
    'fastener.lengthIn',
    'The anchor does not come through the plate: take a longer one.',
  );
  // Tension is the concrete's business; the plate is judged in shear only, on the depth that the anchor is in.
  const shearOnly: FasteningRow = {
    ...row,
    members: row.members.map((member, index) =>
      index === row.members.length - 1
        ? { ...member, thicknessIn: Math.min(member.thicknessIn, deepIn) }
        : member,
    ),
    ...(demand.per === 'joint' ? { demand: { ...demand, withdrawalLb: 0 } } : {}),
  };
  const plate = judgeYieldLimit(shearOnly, editions);
  const declared = row.basis.kind === 'anchor' ? row.basis.declared : undefined;
  if (declared === undefined) {
    const missing = 'Enter the declared shear and tension of the anchor in the concrete that was found.';
    return {
      ...plate,
      checks: [
        ...plate.checks,
        makeCheck({
          id: `${row.id}.concrete`,
          title: 'Anchor in concrete',
          clause: ircClause(editions, 'R403.1.6, R104.11'),
          demand: qty(Math.max(shearLb, tensionLb), 'lb'),
          capacity: qty(0, 'lb'),
          sentence: () => missing,
        }),
      ],
      notices: [...plate.notices, { id: `${row.id}.declared`, severity: 'caution', text: missing }],
    };
  }
  return { ...plate, checks: [...plate.checks, ...concreteChecks(row, declared, shearLb, tensionLb)] };
}
