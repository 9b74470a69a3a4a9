import { describe, expect, it } from 'vitest';
import {
  COMPOSITE_CLASSES,
  compositeMaterial,
  declaredCompositeMaterial,
  type DeclaredProperties,
} from '../../../src/engineering/materials/composite-lumber.ts';
import { GLULAM_COMBINATIONS, glulamMaterial } from '../../../src/engineering/materials/glulam.ts';
import { woodDensityPcf } from '../../../src/engineering/materials/wood-species.ts';

describe('glulam', () => {
  it('knows both faces of an unbalanced layup', () => {
    expect(glulamMaterial('24F-V4', '2018')).toEqual({
      family: 'glulam',
      label: 'Glulam 24F-V4',
      clause: {
        standard: 'NDS Supplement',
        edition: '2018',
        section: 'Table 5A Expanded',
        provenance: 'from memory',
      },
      reference: {
        fbPsi: 2400,
        ftPsi: 1100,
        fvPsi: 265,
        fcPerpPsi: 650,
        fcPsi: 1650,
        ePsi: 1.8e6,
        eminPsi: 950e3,
      },
      fbNegativePsi: 1850,
      eminWeakPsi: 850e3,
      fbWeakPsi: 1450,
      specificGravity: 0.5,
      densityPcf: woodDensityPcf(0.5, 16),
      volume: { kind: 'glulam', exponentDivisor: 10 },
      note: 'Unbalanced layup: the stamped top face must be up.',
    });
    expect(glulamMaterial('24F-V8', '2018')).toMatchObject({ fbNegativePsi: 2400 });
    expect(glulamMaterial('24F-V8', '2018').note).toBeUndefined();
  });

  it('takes the Southern Pine exponent for Southern Pine', () => {
    expect(glulamMaterial('30F-2.1E SP', '2024')).toMatchObject({
      clause: { edition: '2024', section: 'Table 5A' },
      volume: { exponentDivisor: 20 },
    });
    expect(glulamMaterial('16F-1.3E', '2018').volume).toEqual({ kind: 'glulam', exponentDivisor: 10 });
  });

  it('is refused by a class not held', () => {
    expect(() => glulamMaterial('99F', '2018')).toThrow(
      expect.objectContaining({
        path: 'member.combination',
        message: `Glulam 99F is not held; there are ${GLULAM_COMBINATIONS.join(', ')}.`,
      }),
    );
    expect(GLULAM_COMBINATIONS).toHaveLength(9);
  });
});

describe('composite lumber', () => {
  it('names its generic values as such', () => {
    expect(compositeMaterial('LVL 2.0E')).toEqual({
      family: 'composite',
      label: 'LVL 2.0E',
      clause: {
        standard: 'Practice',
        edition: '',
        section: 'generic LVL 2.0E; the maker’s report governs',
        provenance: 'common practice',
      },
      reference: {
        fbPsi: 2600,
        ftPsi: 1555,
        fvPsi: 285,
        fcPerpPsi: 750,
        fcPsi: 2510,
        ePsi: 2e6,
        eminPsi: 1.016e6,
      },
      fbNegativePsi: 2600,
      eminWeakPsi: 1.016e6,
      fbWeakPsi: 2600,
      specificGravity: 0.5,
      densityPcf: 42,
      volume: { kind: 'depth', referenceDepthIn: 12, exponent: 0.136 },
      note: 'Generic values; the report of the product delivered governs.',
    });
    expect(COMPOSITE_CLASSES.map((entry) => entry.name)).toEqual([
      'LVL 1.9E',
      'LVL 2.0E',
      'PSL 2.0E',
      'PSL 2.2E',
      'LSL 1.3E',
      'LSL 1.55E',
    ]);
    for (const entry of COMPOSITE_CLASSES) {
      expect(entry.thicknessesIn.length).toBeGreaterThan(0);
      expect(entry.depthsIn).toContain(11.875);
    }
  });

  it('is refused by a class not held', () => {
    expect(() => compositeMaterial('LVL 9E')).toThrow(
      expect.objectContaining({
        path: 'member.class',
        message:
          "LVL 9E is not held; there are LVL 1.9E, LVL 2.0E, PSL 2.0E, PSL 2.2E, LSL 1.3E, LSL 1.55E, or declare the report's values.",
      }),
    );
  });

  const sheet: DeclaredProperties = {
    report: 'Report 1234',
    fbPsi: 2900,
    fvPsi: 290,
    fcPerpPsi: 750,
    ePsi: 2.1e6,
    eminPsi: 1.07e6,
    specificGravity: 0.5,
    referenceDepthIn: 12,
    depthExponent: 0.111,
    densityPcf: 43,
  };

  it('takes a property sheet with its report', () => {
    expect(declaredCompositeMaterial('LVL', { ...sheet, ftPsi: 1800, fcPsi: 2600 })).toMatchObject({
      label: 'LVL',
      clause: { standard: 'Declared', edition: '', section: 'Report 1234', provenance: 'declared' },
      reference: { fbPsi: 2900, ftPsi: 1800, fcPsi: 2600, ePsi: 2.1e6 },
      volume: { exponent: 0.111 },
      densityPcf: 43,
    });
    expect(declaredCompositeMaterial('LVL', sheet).reference).toMatchObject({ ftPsi: 0, fcPsi: 0 });
    expect(declaredCompositeMaterial('LVL', sheet).note).toBeUndefined();
    expect(declaredCompositeMaterial('LVL', { ...sheet, depthExponent: 0 }).volume).toMatchObject({
      exponent: 0,
    });
    expect(declaredCompositeMaterial('LVL', { ...sheet, depthExponent: 1 }).volume).toMatchObject({
      exponent: 1,
    });
  });

  it.each([
    ['report', { report: ' ' }],
    ['fbPsi', { fbPsi: 0 }],
    ['fvPsi', { fvPsi: -1 }],
    ['fcPerpPsi', { fcPerpPsi: NaN }],
    ['ePsi', { ePsi: Infinity }],
    ['eminPsi', { eminPsi: 0 }],
    ['eminPsi', { eminPsi: 2.1e6 }],
    ['specificGravity', { specificGravity: 0 }],
    ['referenceDepthIn', { referenceDepthIn: 0 }],
    ['densityPcf', { densityPcf: 0 }],
    ['ftPsi', { ftPsi: 0 }],
    ['fcPsi', { fcPsi: -5 }],
    ['depthExponent', { depthExponent: -0.01 }],
    ['depthExponent', { depthExponent: 1.01 }],
    ['depthExponent', { depthExponent: NaN }],
  ])('refuses a sheet whose %s can’t be', (field, change) => {
    expect(() => declaredCompositeMaterial('LVL', { ...sheet, ...change })).toThrow(
      expect.objectContaining({ path: `member.declared.${field}` }),
    );
  });
});
