import { qty, refuseUnless, type Editions, type Step } from '../../trace/index.ts';
import { groupActionFactor } from '../adjustments/group-action.ts';
import {
  connectionDurationFactor,
  diaphragmFactor,
  endGrainFactor,
  isLargeDowel,
  lateralWetFactor,
  temperatureFactor,
  toeNailFactor,
  withdrawalWetFactor,
} from '../adjustments/service-factors.ts';
import { ndsClause } from '../clauses.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import { countPerRow } from './placement.ts';
import type { FasteningRow, RowMember } from './row.ts';

export interface Adjusted {
  readonly valueLb: number;
  readonly step: Step;
}

/** E × A of a member for group action (NDS 11.3.6.2, 11.3.6.3), lb. */
function stiffnessLb(row: FasteningRow, member: RowMember, index: number): number {
  refuseUnless(
    member.ePsi !== undefined,
    `members.${index}.ePsi`,
    'Fasteners of 1/4 in and more in a row need the modulus of elasticity of each piece (group action, NDS 11.3.6).',
  );
  // Across the grain the area is thickness × the width that the fastener group covers, one spacing at least.
  const widthIn = row.endLoading === 'across grain' ? row.pattern.spacingIn : member.widthIn;
  return member.ePsi * member.thicknessIn * widthIn;
}

/**
 * Cg of the row for one shear plane between two pieces (NDS 11.3.6); fasteners in the direction of the load count.
 */
export function rowGroupFactor(row: FasteningRow, sideIndex: number, mainIndex: number): number {
  const along = row.loadRuns === 'along rows';
  const count = along ? Math.max(1, countPerRow(row)) : row.pattern.rows;
  if (count === 1 || !isLargeDowel(row.fastener)) return 1;
  // A distributed load enters and leaves along the row: the elastic end peaks of a loaded end don't arise.
  if (row.pattern.kind === 'spaced' && along) return 1;
  const side = row.members[sideIndex];
  const main = row.members[mainIndex];
  refuseUnless(side !== undefined && main !== undefined, 'members', 'The joint lacks a piece.');
  const double = row.basis.kind === 'yield limit' && row.basis.shear === 'double';
  const far = double ? row.members[2] : undefined;
  return groupActionFactor({
    count,
    diameterIn: dowelProperties(row.fastener).diameterIn,
    spacingIn: along ? row.pattern.spacingIn : row.pattern.rowSpacingIn,
    mainStiffnessLb: stiffnessLb(row, main, mainIndex),
    sideStiffnessLb: stiffnessLb(row, side, sideIndex) + (far === undefined ? 0 : stiffnessLb(row, far, 2)),
    toSteel: side.material === 'steel' || main.material === 'steel',
  });
}

/** Z′ of one fastener, lb (NDS Table 11.3.1). */
export function adjustedLateral(
  row: FasteningRow,
  zLb: number,
  groupFactor: number,
  geometryFactor: number,
  editions: Editions,
): Adjusted {
  const { conditions, fastener, method } = row;
  const { diameterIn } = dowelProperties(fastener);
  const cd = connectionDurationFactor(row.demand.durationFactor, 'demand.durationFactor');
  const followsShrinkage = row.pattern.rows === 1 && row.loadRuns === 'along rows';
  const cm = lateralWetFactor(conditions, diameterIn, followsShrinkage);
  const ct = temperatureFactor(conditions, 'conditions.temperatureF');
  const ceg = endGrainFactor(method, 'lateral');
  const cdi = diaphragmFactor(fastener, row.inDiaphragm);
  const ctn = toeNailFactor(method, 'lateral');
  const valueLb = zLb * cd * cm * ct * groupFactor * geometryFactor * ceg * cdi * ctn;
  return {
    valueLb,
    step: {
      id: `${row.id}.Zprime`,
      title: 'Adjusted lateral value of one fastener',
      clause: ndsClause(editions, 'Table 11.3.1'),
      formula: 'Z′ = Z · CD · CM · Ct · Cg · CΔ · Ceg · Cdi · Ctn',
      values: {
        Z: qty(zLb, 'lb'),
        CD: qty(cd),
        CM: qty(cm),
        Ct: qty(ct),
        Cg: qty(groupFactor),
        CΔ: qty(geometryFactor),
        Ceg: qty(ceg),
        Cdi: qty(cdi),
        Ctn: qty(ctn),
      },
      result: qty(valueLb, 'lb'),
    },
  };
}

/** W′p of one fastener, lb (NDS Table 11.3.1); toe-nails take Ctn and no CM (12.5.4.1). */
export function adjustedWithdrawal(row: FasteningRow, totalLb: number, editions: Editions): Adjusted {
  const { conditions, fastener, method } = row;
  const cd = connectionDurationFactor(row.demand.durationFactor, 'demand.durationFactor');
  const cm = method === 'toe' ? 1 : withdrawalWetFactor(conditions, fastener);
  const ct = temperatureFactor(conditions, 'conditions.temperatureF');
  const ceg = endGrainFactor(method, 'withdrawal');
  const ctn = toeNailFactor(method, 'withdrawal');
  const valueLb = totalLb * cd * cm * ct * ceg * ctn;
  return {
    valueLb,
    step: {
      id: `${row.id}.Wprime`,
      title: 'Adjusted withdrawal value of one fastener',
      clause: ndsClause(editions, 'Table 11.3.1'),
      formula: 'W′p = Wp · CD · CM · Ct · Ceg · Ctn',
      values: {
        Wp: qty(totalLb, 'lb'),
        CD: qty(cd),
        CM: qty(cm),
        Ct: qty(ct),
        Ceg: qty(ceg),
        Ctn: qty(ctn),
      },
      result: qty(valueLb, 'lb'),
    },
  };
}
