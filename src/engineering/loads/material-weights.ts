import type { Clause } from '../trace/clause.ts';
import { qty } from '../trace/quantity.ts';
import { finite, positive, Refusal } from '../trace/refusal.ts';
import type { Step } from '../trace/step.ts';
import { MATERIAL_WEIGHTS, type MaterialWeight } from './material-weights-table.ts';

export { MATERIAL_WEIGHTS, type MaterialGroup, type MaterialWeight } from './material-weights-table.ts';

/** One layer of an assembly: a material of the library, or a weight that the surveyor knows. */
export type Layer =
  | { readonly material: string; readonly thicknessIn?: number; readonly count?: number }
  | { readonly label: string; readonly psf: number };

export interface AssemblyWeight {
  readonly psf: number;
  readonly steps: readonly Step[];
}

const BY_ID: ReadonlyMap<string, MaterialWeight> = new Map(
  MATERIAL_WEIGHTS.map((entry) => [entry.id, entry]),
);

export function materialWeight(id: string): MaterialWeight | undefined {
  return BY_ID.get(id);
}

function sourceOf(entry: MaterialWeight): Clause {
  return entry.source === 'table'
    ? { standard: 'ASCE 7', edition: '7-16', section: 'Table C3.1-1a', provenance: 'from memory' }
    : { standard: 'Practice', edition: '', section: 'usual allowance', provenance: 'common practice' };
}

function layerStep(layer: Layer, index: number): Step {
  const path = `layers.${index}`;
  if ('psf' in layer) {
    finite(layer.psf, `${path}.psf`);
    if (layer.psf < 0) throw new Refusal(`${path}.psf`, 'A layer can’t weigh less than nothing.');
    return {
      id: `assembly.${path}`,
      title: layer.label,
      clause: { standard: 'Declared', edition: '', section: layer.label, provenance: 'declared' },
      formula: 'q = declared',
      values: { declared: qty(layer.psf, 'psf') },
      result: qty(layer.psf, 'psf'),
    };
  }
  const entry = BY_ID.get(layer.material);
  if (entry === undefined) {
    throw new Refusal(
      `${path}.material`,
      `There is no material “${layer.material}” in the library of weights.`,
    );
  }
  const count = positive(layer.count ?? 1, `${path}.count`);
  if (entry.perInch !== true) {
    if (layer.thicknessIn !== undefined) {
      throw new Refusal(
        `${path}.thicknessIn`,
        `${entry.name} is listed at one thickness; leave the thickness out.`,
      );
    }
    return {
      id: `assembly.${path}`,
      title: entry.name,
      clause: sourceOf(entry),
      formula: 'q = n · q1',
      values: { n: qty(count, 'each'), q1: qty(entry.psf, 'psf') },
      result: qty(count * entry.psf, 'psf'),
    };
  }
  if (layer.thicknessIn === undefined) {
    throw new Refusal(`${path}.thicknessIn`, `${entry.name} is listed by the inch; give its thickness.`);
  }
  const thickness = positive(layer.thicknessIn, `${path}.thicknessIn`);
  return {
    id: `assembly.${path}`,
    title: entry.name,
    clause: sourceOf(entry),
    formula: 'q = n · t · q1',
    values: { n: qty(count, 'each'), t: qty(thickness, 'in'), q1: qty(entry.psf, 'psf') },
    result: qty(count * thickness * entry.psf, 'psf'),
    note: 'q1: psf for one inch.',
  };
}

/**
 * Weight of an assembly by its layers, psf of its own surface (on the slope for a roof).
 *
 * @throws Refusal for a material that is not in the library, a thickness missing or out of place, an empty list
 */
export function assemblyWeight(layers: readonly Layer[]): AssemblyWeight {
  if (layers.length === 0) throw new Refusal('layers', 'An assembly needs at least one layer.');
  const steps = layers.map((layer, index) => layerStep(layer, index));
  const psf = steps.reduce((sum, step) => sum + step.result.value, 0);
  const values = Object.fromEntries(steps.map((step, index) => [`q${index + 1}`, step.result]));
  return {
    psf,
    steps: [
      ...steps,
      {
        id: 'assembly.total',
        title: 'Weight of the assembly',
        clause: { standard: 'ASCE 7', edition: '7-16', section: '3.1' },
        formula: `D = ${Object.keys(values).join(' + ')}`,
        values,
        result: qty(psf, 'psf'),
      },
    ],
  };
}
