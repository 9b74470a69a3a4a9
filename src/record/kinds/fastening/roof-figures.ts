import type { FasteningRow } from '../../../engineering/fasteners/schedule/row.ts';
import { takeOffLoads } from '../../../engineering/loads/take-off/take-off.ts';
import type { Criteria } from '../../../engineering/proposal/criteria.ts';
import { tiedRafters } from '../../../engineering/proposal/fastening/roof.ts';
import type { Survey } from '../../../engineering/proposal/survey.ts';
import { qty } from '../../../engineering/trace/index.ts';
import type { OutputValue } from '../../calculation.ts';

/** What rows whose demand comes from the roof rest on; undefined for other joints. */
export function roofFigures(
  joint: FasteningRow['joint'],
  survey: Survey,
  criteria: Criteria,
): Record<string, OutputValue> | undefined {
  if (joint === 'joist tie') {
    const pair = tiedRafters(survey, criteria);
    if (pair === undefined) return { thrust: 'none' };
    const { rafters } = pair;
    return {
      'rafters, wall to wall': qty(rafters.spanIn, 'in'),
      'roof rise in 12': qty(rafters.riseIn12),
      'rafter spacing': qty(rafters.spacingIn, 'in'),
      'joist spacing': qty(pair.joistSpacingIn, 'in'),
      [`roof on plan, ${pair.combination}`]: qty(rafters.loadPlanPsf, 'psf'),
    };
  }
  if (joint !== 'brace foot') return undefined;
  const { braces } = takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' });
  return Object.fromEntries(
    braces.flatMap(({ label, positionIn, verticalLb, snowLb }) => [
      [`${label}, place`, qty(positionIn, 'in')],
      [`${label}, D`, qty(verticalLb.D, 'lb')],
      [`${label}, Lr`, qty(verticalLb.Lr, 'lb')],
      [`${label}, S`, qty(Math.max(0, ...Object.values(snowLb)), 'lb')],
    ]),
  );
}
