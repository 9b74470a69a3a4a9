import { qty } from '../../trace/quantity.ts';
import { positive } from '../../trace/refusal.ts';
import type { Notice, Step } from '../../trace/step.ts';
import { feetFromInches } from '../../units/conversions.ts';
import type { SnowCase } from '../load.ts';
import { ridgeDrift } from './drift.ts';
import {
  flatRoofSnow,
  importanceOf,
  minimumRoofSnow,
  rainOnSnow,
  snowClause,
  type SnowSite,
} from './flat-roof.ts';
import { slopeFactor } from './slope-factor.ts';

export interface GableRoof {
  readonly riseIn12: number;
  readonly slippery: boolean;
  /** Horizontal; absent: the other slope is not described, so unbalanced snow can't be run. */
  readonly eaveToRidge?: { readonly frontIn: number; readonly rearIn: number };
  /** Rafters of one size, simply supported from ridge to eave (7.6.1's simple case up to 20 ft). */
  readonly simpleRafters: boolean;
}

/** Snow on plan area of one slope. The surcharge begins at the ridge. */
export interface SlopeSnow {
  readonly uniformPsf: number;
  readonly surcharge?: { readonly psf: number; readonly lengthIn: number };
}

export interface SnowOnRoof {
  readonly snowCase: SnowCase;
  readonly front: SlopeSnow;
  readonly rear: SlopeSnow;
  readonly steps: readonly Step[];
}

export interface RoofSnow {
  readonly cases: readonly SnowOnRoof[];
  readonly notices: readonly Notice[];
}

/** Unbalanced snow is run between ½ in 12 and 7 in 12 (7.6.1: 2.38° to 30.2°). */
const FLATTEST_RISE = 0.5;
const STEEPEST_RISE = 7;
const SIMPLE_RAFTER_FT = 20;

/**
 * All the ways snow lies on a gable roof: balanced (sloped load, or the minimum of low slopes where that is
 * more), and with either slope leeward.
 *
 * Unbalanced (7.6.1): simple rafters with W ≤ 20 ft: Is pg on the leeward slope (pg in 7-22), nothing on the
 * windward. Otherwise 0.3 ps windward, ps plus a drift surcharge leeward.
 *
 * @throws Refusal for geometry or climate that makes no sense, or a missing W2 in 7-22
 */
export function roofSnow(site: SnowSite, roof: GableRoof): RoofSnow {
  const flat = flatRoofSnow(site);
  const slope = slopeFactor({
    asce7: site.asce7,
    riseIn12: roof.riseIn12,
    thermalFactor: site.thermalFactor,
    slippery: roof.slippery,
  });
  const slopedPsf = flat.psf * slope.factor;
  const slopedSteps: Step[] = [
    ...flat.steps,
    slope.step,
    {
      id: 'snow.ps',
      title: 'Sloped roof snow load on plan area',
      clause: snowClause(site.asce7, '7.4, Eq. 7.4-1'),
      formula: 'ps = Cs · pf',
      values: { Cs: qty(slope.factor), pf: qty(flat.psf, 'psf') },
      result: qty(slopedPsf, 'psf'),
    },
  ];
  const balanced = balancedCase(site, roof, slopedPsf, slopedSteps);
  if (site.groundSnowPsf === 0 || roof.riseIn12 < FLATTEST_RISE || roof.riseIn12 > STEEPEST_RISE) {
    return { cases: [balanced], notices: site.groundSnowPsf === 0 ? [] : [notRequired(site, roof)] };
  }
  if (roof.eaveToRidge === undefined) {
    return {
      cases: [balanced],
      notices: [
        {
          id: 'snow.unbalanced-not-run',
          severity: 'caution',
          text: 'Unbalanced snow was not run: the roof (eave-to-ridge distances) is not described in the survey.',
          clause: snowClause(site.asce7, '7.6.1'),
        },
      ],
    };
  }
  const frontFt = feetFromInches(positive(roof.eaveToRidge.frontIn, 'frontEaveToRidgeIn'));
  const rearFt = feetFromInches(positive(roof.eaveToRidge.rearIn, 'rearEaveToRidgeIn'));
  if (roof.simpleRafters && frontFt <= SIMPLE_RAFTER_FT && rearFt <= SIMPLE_RAFTER_FT) {
    return { cases: [balanced, ...simpleRafterCases(site)], notices: [] };
  }
  const onWindward = 0.3 * slopedPsf;
  const windwardStep: Step = {
    id: 'snow.windward',
    title: 'Unbalanced snow, windward slope',
    clause: snowClause(site.asce7, '7.6.1'),
    formula: 'pw = 0.3 · ps',
    values: { ps: qty(slopedPsf, 'psf') },
    result: qty(onWindward, 'psf'),
  };
  const drifted = (snowCase: SnowCase, windwardFt: number, leewardFt: number): SnowOnRoof => {
    const drift = ridgeDrift(site, roof.riseIn12, windwardFt, leewardFt);
    const leeward: SlopeSnow = {
      uniformPsf: slopedPsf,
      surcharge: { psf: drift.surchargePsf, lengthIn: drift.lengthFt * 12 },
    };
    const windward: SlopeSnow = { uniformPsf: onWindward };
    return {
      snowCase,
      front: snowCase === 'front leeward' ? leeward : windward,
      rear: snowCase === 'front leeward' ? windward : leeward,
      steps: [...slopedSteps, windwardStep, ...drift.steps],
    };
  };
  return {
    cases: [balanced, drifted('front leeward', rearFt, frontFt), drifted('rear leeward', frontFt, rearFt)],
    notices: [],
  };
}

function balancedCase(
  site: SnowSite,
  roof: GableRoof,
  slopedPsf: number,
  slopedSteps: readonly Step[],
): SnowOnRoof {
  const minimum = minimumRoofSnow(site, roof.riseIn12);
  const longerFt = roof.eaveToRidge
    ? feetFromInches(Math.max(roof.eaveToRidge.frontIn, roof.eaveToRidge.rearIn))
    : 0;
  const rain = rainOnSnow(site, roof.riseIn12, longerFt);
  const uniformPsf = Math.max(slopedPsf + rain.psf, minimum.psf);
  const steps = [...slopedSteps, ...rain.steps, ...minimum.steps];
  if (rain.psf > 0 || minimum.psf > 0) {
    steps.push({
      id: 'snow.uniform',
      title: 'Uniform snow on the whole roof: balanced or minimum, whichever is more',
      clause: snowClause(site.asce7, site.asce7 === '7-16' ? '7.3.4, 7.10' : '7.3.3, 7.10'),
      formula: 'pu = max(ps + pr, pm)',
      values: { ps: qty(slopedPsf, 'psf'), pr: qty(rain.psf, 'psf'), pm: qty(minimum.psf, 'psf') },
      result: qty(uniformPsf, 'psf'),
    });
  }
  return { snowCase: 'balanced', front: { uniformPsf }, rear: { uniformPsf }, steps };
}

function simpleRafterCases(site: SnowSite): SnowOnRoof[] {
  const importance = importanceOf(site);
  const psf = importance * site.groundSnowPsf;
  const is16 = site.asce7 === '7-16';
  const step: Step = {
    id: 'snow.leeward-simple',
    title: 'Unbalanced snow, leeward slope of simple rafters up to 20 ft',
    clause: snowClause(site.asce7, '7.6.1'),
    formula: is16 ? 'pl = Is · pg' : 'pl = pg',
    values: {
      pg: qty(site.groundSnowPsf, 'psf'),
      ...(is16 ? { Is: qty(importance) } : {}),
    },
    result: qty(psf, 'psf'),
    note: 'Nothing on the windward slope.',
  };
  const full: SlopeSnow = { uniformPsf: psf };
  const bare: SlopeSnow = { uniformPsf: 0 };
  return [
    { snowCase: 'front leeward', front: full, rear: bare, steps: [step] },
    { snowCase: 'rear leeward', front: bare, rear: full, steps: [step] },
  ];
}

function notRequired(site: SnowSite, roof: GableRoof): Notice {
  const why = roof.riseIn12 > STEEPEST_RISE ? 'steeper than 7 in 12' : 'flatter than ½ in 12';
  return {
    id: 'snow.unbalanced-not-required',
    severity: 'note',
    text: `Unbalanced snow is not required: the roof is ${why}.`,
    clause: snowClause(site.asce7, '7.6.1'),
  };
}
