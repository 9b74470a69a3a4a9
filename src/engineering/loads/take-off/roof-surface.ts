import type { Criteria } from '../../proposal/criteria.ts';
import type { Roof } from '../../proposal/survey.ts';
import { qty } from '../../trace/quantity.ts';
import { notNegative } from '../../trace/refusal.ts';
import type { Step } from '../../trace/step.ts';
import { slopeDegrees, slopeLengthRatio } from '../../units/conversions.ts';
import type { SnowSite } from '../snow/flat-roof.ts';
import { roofSnow, type GableRoof, type RoofSnow } from '../snow/roof-snow.ts';

/** The climate figures of the project as the snow rules read them. */
export function snowSiteOf(criteria: Criteria): SnowSite {
  return {
    asce7: criteria.editions.asce7,
    groundSnowPsf: criteria.groundSnowPsf,
    exposureFactor: criteria.snowExposureFactor,
    thermalFactor: criteria.snowThermalFactor,
    importanceFactor: criteria.snowImportanceFactor,
    ...(criteria.winterWindParameter === undefined
      ? {}
      : { winterWindParameter: criteria.winterWindParameter }),
  };
}

/** Dead load of a roof weighed on its slope, on plan area: D ÷ cos θ. */
export function deadOnPlan(
  deadOnSlopePsf: number,
  riseIn12: number,
  id: string,
): { psf: number; step: Step } {
  const psf = notNegative(deadOnSlopePsf, 'deadOnSlopePsf') * slopeLengthRatio(riseIn12);
  return {
    psf,
    step: {
      id: `${id}.dead-on-plan`,
      title: 'Dead load of the roof on plan area',
      clause: { standard: 'Mechanics', edition: '', section: 'load on the slope ÷ cosine of the slope' },
      formula: 'D = Ds ÷ cos(θ)',
      values: { Ds: qty(deadOnSlopePsf, 'psf'), θ: qty(slopeDegrees(riseIn12), 'deg') },
      result: qty(psf, 'psf'),
    },
  };
}

/** Snow on a roof of the survey; a pitch of its own where a strip names one. */
export function snowOnSurveyRoof(
  criteria: Criteria,
  roof: Roof | undefined,
  riseIn12: number,
  simpleRafters: boolean,
): RoofSnow {
  const gable: GableRoof = {
    riseIn12,
    slippery: roof?.slippery ?? false,
    simpleRafters,
    ...(roof === undefined
      ? {}
      : { eaveToRidge: { frontIn: roof.frontEaveToRidgeIn, rearIn: roof.rearEaveToRidgeIn } }),
  };
  return roofSnow(snowSiteOf(criteria), gable);
}
