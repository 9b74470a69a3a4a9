import { positive, qty, refuseUnless, type Editions, type Step } from '../trace/index.ts';
import { irc } from './clauses.ts';
import type { Footprint, Pad } from './pad.ts';

/** Concrete that is there: a strip of some width under the wall, or a slab, which has no width of its own. */
export interface FoundConcrete {
  /** Across the wall; of a slab as much as was seen. */
  readonly widthIn: number;
  readonly thicknessIn: number;
}

/**
 * The part of a strip or slab that one may count on as a pad: the footprint widened on every side by no more than
 * the thickness (IRC R403.1.1: projections not beyond the thickness of the footing), and not wider than what is there.
 * Along the wall the concrete is taken to run on. Refuses a strip narrower than what stands on it.
 */
export function effectivePad(
  found: FoundConcrete,
  footprint: Footprint,
  editions: Editions,
): { readonly pad: Pad; readonly steps: readonly Step[] } {
  const thickness = positive(found.thicknessIn, 'foundThicknessIn');
  const width = positive(found.widthIn, 'foundWidthIn');
  refuseUnless(
    width >= footprint.acrossIn,
    'foundWidthIn',
    'The footing found is narrower than the pack that stands on it; measure it again, or propose a pad.',
  );
  const spread = (base: number) => base + 2 * thickness;
  const pad = {
    alongIn: spread(footprint.alongIn),
    acrossIn: Math.min(width, spread(footprint.acrossIn)),
    thicknessIn: thickness,
  };
  const step = (id: string, title: string, base: number, result: number, note?: string): Step => ({
    id,
    title,
    clause: irc(editions, 'R403.1.1'),
    formula: 'L = a + 2 · t',
    values: { a: qty(base, 'in'), t: qty(thickness, 'in') },
    result: qty(result, 'in'),
    ...(note === undefined ? {} : { note }),
  });
  return {
    pad,
    steps: [
      step('found.along', 'Length along the wall that spreads the load', footprint.alongIn, pad.alongIn),
      step(
        'found.across',
        'Width across the wall that spreads the load',
        footprint.acrossIn,
        pad.acrossIn,
        `Not more than the ${width} in found.`,
      ),
    ],
  };
}
