import { describe, expect, test } from 'vitest';
import { assemblyWeight, MATERIAL_WEIGHTS, materialWeight } from '../../../src/engineering/loads/index.ts';
import { Refusal } from '../../../src/engineering/trace/refusal.ts';
import { evaluateFormula } from './evaluate-formula.ts';

describe('weights of materials', () => {
  test('every entry has its own id and a weight', () => {
    expect(new Set(MATERIAL_WEIGHTS.map((entry) => entry.id)).size).toBe(MATERIAL_WEIGHTS.length);
    for (const entry of MATERIAL_WEIGHTS) expect(entry.psf, entry.id).toBeGreaterThan(0);
    expect(materialWeight('asphalt-shingles')?.psf).toBe(2);
    expect(materialWeight('moon-rock')).toBeUndefined();
  });

  test('a roof by layers: two layers of shingles, felt, 1/2 in plywood, rafters as declared', () => {
    const weight = assemblyWeight([
      { material: 'asphalt-shingles', count: 2 },
      { material: 'underlayment-felt' },
      { material: 'plywood', thicknessIn: 0.5 },
      { label: '2x6 rafters at 24 in', psf: 1.1 },
    ]);
    expect(weight.psf).toBeCloseTo(4 + 0.3 + 1.6 + 1.1, 9);
    for (const step of weight.steps) expect(evaluateFormula(step)).toBeCloseTo(step.result.value, 9);
  });

  test.each([
    ['layers', []],
    ['layers.0.material', [{ material: 'moon-rock' }]],
    ['layers.0.thicknessIn', [{ material: 'plywood' }]],
    ['layers.0.thicknessIn', [{ material: 'plywood', thicknessIn: 0 }]],
    ['layers.0.thicknessIn', [{ material: 'asphalt-shingles', thicknessIn: 1 }]],
    ['layers.0.count', [{ material: 'asphalt-shingles', count: 0 }]],
    ['layers.0.psf', [{ label: 'x', psf: -1 }]],
    ['layers.0.psf', [{ label: 'x', psf: NaN }]],
  ])('%s: %j is refused', (path, layers) => {
    try {
      assemblyWeight(layers);
    } catch (error) {
      expect(error).toBeInstanceOf(Refusal);
      expect((error as Refusal).path).toBe(path);
      return;
    }
    expect.fail('not refused');
  });
});
