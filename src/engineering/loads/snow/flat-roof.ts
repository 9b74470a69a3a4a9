import type { Clause, Editions } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import { notNegative, positive } from '../../trace/refusal.ts';
import type { Step } from '../../trace/step.ts';
import { slopeDegrees } from '../../units/conversions.ts';

type Asce7 = Editions['asce7'];

/** The snow figures of a site; pg belongs to the edition named. */
export interface SnowSite {
  readonly asce7: Asce7;
  readonly groundSnowPsf: number;
  readonly exposureFactor: number;
  readonly thermalFactor: number;
  /** Is of ASCE 7-16 Table 1.5-2. 7-22 has none; it is not read there. */
  readonly importanceFactor: number;
  /** W2 of ASCE 7-22 Fig. 7.6-1 to 7.6-4; 7-16 does not read it. */
  readonly winterWindParameter?: number;
}

export interface SnowFigure {
  readonly psf: number;
  readonly steps: readonly Step[];
}

/** Largest minimum roof snow, psf, of ASCE 7-22 Table 7.3-4 for risk category II, which dwellings are (from memory). */
const LARGEST_MINIMUM_7_22_PSF = 30;

export function snowClause(asce7: Asce7, section: string): Clause {
  return { standard: 'ASCE 7', edition: asce7, section, provenance: 'from memory' };
}

/** Is where the edition has one; 1 in 7-22, whose maps already are by risk category. */
export function importanceOf(site: SnowSite): number {
  return site.asce7 === '7-16' ? positive(site.importanceFactor, 'snowImportanceFactor') : 1;
}

/**
 * Flat roof snow load.
 *
 * 7-16: pf = 0.7 Ce Ct Is pg (Eq. 7.3-1). 7-22: pf = 0.7 Ce Ct pg, where pg is strength-level and mapped by
 * risk category (Eq. 7.3-1), so pf enters service combinations as 0.7S. Both seen quoted in public articles.
 */
export function flatRoofSnow(site: SnowSite): SnowFigure {
  const ground = notNegative(site.groundSnowPsf, 'groundSnowPsf');
  const exposure = positive(site.exposureFactor, 'snowExposureFactor');
  const thermal = positive(site.thermalFactor, 'snowThermalFactor');
  const importance = importanceOf(site);
  const psf = 0.7 * exposure * thermal * importance * ground;
  const common = { Ce: qty(exposure), Ct: qty(thermal), pg: qty(ground, 'psf') };
  const is16 = site.asce7 === '7-16';
  return {
    psf,
    steps: [
      {
        id: 'snow.pf',
        title: 'Flat roof snow load',
        clause: {
          standard: 'ASCE 7',
          edition: site.asce7,
          section: '7.3, Eq. 7.3-1',
          provenance: 'seen',
        },
        formula: is16 ? 'pf = 0.7 · Ce · Ct · Is · pg' : 'pf = 0.7 · Ce · Ct · pg',
        values: is16 ? { ...common, Is: qty(importance) } : common,
        result: qty(psf, 'psf'),
        ...(is16
          ? {}
          : { note: 'Strength-level: pg of this edition is mapped by risk category, without Is.' }),
      },
    ],
  };
}

/** Gable and hip roofs flatter than this take the minimum load (7-16 7.3.4, 7-22 7.3.3). */
const LOW_SLOPE_DEG = 15;

/**
 * Minimum snow load of low-slope roofs, a uniform case of its own; 0 psf for steeper roofs.
 *
 * 7-16 7.3.4: Is pg up to 20 psf ground snow, else 20 Is. 7-22 7.3.3: pg up to pm,max of Table 7.3-4, else
 * pm,max. Gable, hip and monoslope roofs under 15°.
 */
export function minimumRoofSnow(site: SnowSite, riseIn12: number): SnowFigure {
  const ground = notNegative(site.groundSnowPsf, 'groundSnowPsf');
  if (slopeDegrees(notNegative(riseIn12, 'riseIn12')) >= LOW_SLOPE_DEG || ground === 0)
    return { psf: 0, steps: [] };
  if (site.asce7 === '7-22') {
    const psf = Math.min(ground, LARGEST_MINIMUM_7_22_PSF);
    return {
      psf,
      steps: [
        {
          id: 'snow.pm',
          title: 'Minimum snow load of a low-slope roof',
          clause: snowClause('7-22', '7.3.3, Table 7.3-4'),
          formula: 'pm = min(pg, pmmax)',
          values: { pg: qty(ground, 'psf'), pmmax: qty(LARGEST_MINIMUM_7_22_PSF, 'psf') },
          result: qty(psf, 'psf'),
          note: 'Risk category II.',
        },
      ],
    };
  }
  const importance = importanceOf(site);
  const psf = importance * Math.min(ground, 20);
  return {
    psf,
    steps: [
      {
        id: 'snow.pm',
        title: 'Minimum snow load of a low-slope roof',
        clause: snowClause('7-16', '7.3.4'),
        formula: 'pm = Is · min(pg, 20)',
        values: { Is: qty(importance), pg: qty(ground, 'psf') },
        result: qty(psf, 'psf'),
      },
    ],
  };
}

/**
 * Rain-on-snow surcharge on nearly flat roofs, added to the balanced load only: slope in degrees below W ÷ 50
 * (W in feet). 7-16 7.10: 5 psf where 0 < pg ≤ 20 psf. 7-22 7.10: 8 psf where 0 < pg ≤ pm,max (from memory).
 */
export function rainOnSnow(site: SnowSite, riseIn12: number, eaveToRidgeFt: number): SnowFigure {
  const ground = notNegative(site.groundSnowPsf, 'groundSnowPsf');
  const limit = site.asce7 === '7-16' ? 20 : LARGEST_MINIMUM_7_22_PSF;
  const slope = slopeDegrees(notNegative(riseIn12, 'riseIn12'));
  if (ground === 0 || ground > limit || slope >= eaveToRidgeFt / 50) return { psf: 0, steps: [] };
  const psf = site.asce7 === '7-16' ? 5 : 8;
  return {
    psf,
    steps: [
      {
        id: 'snow.rain',
        title: 'Rain-on-snow surcharge',
        clause: snowClause(site.asce7, '7.10'),
        formula: 'pr = ptable',
        values: { ptable: qty(psf, 'psf') },
        result: qty(psf, 'psf'),
        note: `Slope below W ÷ 50 with W ${Number(eaveToRidgeFt.toFixed(1))} ft; added to the balanced load only.`,
      },
    ],
  };
}
