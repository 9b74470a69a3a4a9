import { makeCheck, positive, qty, type Check, type Editions, type Notice } from '../trace/index.ts';
import { PRACTICE, STATICS } from './clauses.ts';
import type { TemporaryWallLoad } from './line-loads.ts';

/** What a slab that is called 4 in thick often measures. Common practice; enter what was probed. */
export const USUAL_SLAB_IN = 3.5;

/**
 * Soil under a slab below a temporary wall: the line load over the sole widened on either side by the slab's
 * thickness. The slab only spreads, it is not counted on to bend.
 */
export function checkSoleOnSlab(input: {
  readonly load: TemporaryWallLoad;
  readonly soleWidthIn: number;
  readonly slabThicknessIn: number;
  readonly soilBearingPsf: number;
  readonly editions: Editions;
}): Check {
  const { load } = input;
  const sole = positive(input.soleWidthIn, 'soleWidthIn');
  const slab = positive(input.slabThicknessIn, 'slabThicknessIn');
  const pressure = (load.heaviest.loadPlf * 12) / (sole + 2 * slab);
  const id = `shoring.${load.side}.sole.soil`;
  return makeCheck({
    id,
    title: `Soil under the slab, ${load.side} temporary wall`,
    clause: { standard: 'IRC', edition: input.editions.irc, section: 'R401.4', provenance: 'from memory' },
    demand: qty(pressure, 'psf'),
    capacity: qty(positive(input.soilBearingPsf, 'soilBearingPsf'), 'psf'),
    governing: load.heaviest.combination,
    steps: [
      {
        id: `${id}.pressure`,
        title: 'Pressure under the slab',
        clause: STATICS,
        formula: 'q = 12 · w / (b + 2 · t)',
        values: { w: qty(load.heaviest.loadPlf, 'plf'), b: qty(sole, 'in'), t: qty(slab, 'in') },
        result: qty(pressure, 'psf'),
      },
    ],
  });
}

/** What the shores below have to carry on, where the sole stands on a framed floor. */
export function loadBelowNotice(load: TemporaryWallLoad): Notice {
  return {
    id: `shoring.${load.side}.below`,
    severity: 'caution',
    text: `The ${load.side} temporary wall brings ${Math.round(load.heaviest.loadPlf)} plf to the floor below: the shores under it carry that, and what the floor adds, on to the ground.`,
    clause: PRACTICE,
  };
}
