import { describe, expect, it } from 'vitest';
import {
  bearingAreaFactor,
  flatUseFactor,
  incisingFactors,
  isRepetitive,
  nds,
  ORDINARY_CONDITIONS,
  repetitiveFactor,
  sizeFactors,
  temperatureFactors,
  validateConditions,
  validLoadDuration,
  volumeFactor,
  wetServiceFactors,
} from '../../../src/engineering/wood/index.ts';
import { glulam, lvl, sawn } from './wood-fixtures.ts';

const ONES = { fb: 1, ft: 1, fv: 1, fcPerp: 1, fc: 1, e: 1 };

describe('clauses', () => {
  it('say whether the section was at hand', () => {
    expect(nds('2018', '3.3.3')).toEqual({
      standard: 'NDS',
      edition: '2018',
      section: '3.3.3',
      provenance: 'seen',
    });
    expect(nds('2024', '3.4.2')).toMatchObject({ edition: '2024', provenance: 'from memory' });
    for (const section of [
      'Table 2.3.2',
      'Table 2.3.3',
      'Table 3.3.3',
      'Eq. 3.3-5',
      'Eq. 3.3-6',
      '3.7.1',
      'Eq. 3.7-1',
      '3.10.4',
      '4.3.6',
      '4.3.7',
      '4.3.8',
      '4.3.9',
      '15.3.2',
      '15.3.3',
    ])
      expect(nds('2018', section).provenance).toBe('seen');
  });
});

describe('service conditions', () => {
  it('are ordinary unless said', () => {
    expect(ORDINARY_CONDITIONS).toEqual({
      wet: false,
      temperatureF: 75,
      incised: false,
      repetitive: false,
      seasoned: true,
    });
  });

  it('end at 150 °F', () => {
    expect(() => {
      validateConditions({ ...ORDINARY_CONDITIONS, temperatureF: 150 });
    }).not.toThrow();
    for (const temperatureF of [150.1, NaN])
      expect(() => {
        validateConditions({ ...ORDINARY_CONDITIONS, temperatureF });
      }).toThrow(expect.objectContaining({ path: 'conditions.temperatureF' }));
    expect(() => {
      validateConditions({ ...ORDINARY_CONDITIONS, temperatureF: 151 });
    }).toThrow('NDS gives no factor for wood sustained above 150 °F.');
  });
});

describe('load duration', () => {
  it('spans 0.9 to 2.0', () => {
    expect(validLoadDuration(0.9, 'x')).toBe(0.9);
    expect(validLoadDuration(2, 'x')).toBe(2);
    for (const factor of [0.89, 2.01, NaN])
      expect(() => validLoadDuration(factor, 'combinations.0.loadDuration')).toThrow(
        expect.objectContaining({ path: 'combinations.0.loadDuration' }),
      );
    expect(() => validLoadDuration(0, 'x')).toThrow('The load duration factor lies between 0.9 and 2.0.');
  });
});

describe('wet service factor CM', () => {
  it('is 1 in the dry for every family', () => {
    for (const family of ['dimension', 'timber', 'glulam', 'composite'] as const)
      expect(wetServiceFactors(family, false, 5000, 5000)).toEqual(ONES);
  });

  it('differs by family in the wet', () => {
    expect(wetServiceFactors('southern pine dimension', true, 1500, 1500)).toEqual({
      fb: 0.85,
      ft: 1,
      fv: 0.97,
      fcPerp: 0.67,
      fc: 0.8,
      e: 0.9,
    });
    expect(wetServiceFactors('timber', true, 1500, 1500)).toEqual({
      fb: 1,
      ft: 1,
      fv: 1,
      fcPerp: 0.67,
      fc: 0.91,
      e: 1,
    });
    expect(wetServiceFactors('southern pine timber', true, 1500, 1500)).toEqual(ONES);
    expect(wetServiceFactors('glulam', true, 1500, 1500)).toEqual({
      fb: 0.8,
      ft: 0.8,
      fv: 0.875,
      fcPerp: 0.53,
      fc: 0.73,
      e: 0.833,
    });
  });

  it('does not exist for composites', () => {
    expect(() => wetServiceFactors('composite', true, 1, 1)).toThrow(
      expect.objectContaining({
        path: 'conditions.wet',
        message:
          'Composite lumber has design values for dry service only; keep it dry or take sawn or glued timber.',
      }),
    );
  });
});

describe('temperature factor Ct', () => {
  it('is stepped, lower in the wet', () => {
    expect(temperatureFactors(100, true)).toEqual(ONES);
    expect(temperatureFactors(101, false)).toEqual({
      fb: 0.8,
      ft: 0.9,
      fv: 0.8,
      fcPerp: 0.8,
      fc: 0.8,
      e: 0.9,
    });
    expect(temperatureFactors(125, true).fb).toBe(0.7);
    expect(temperatureFactors(126, true)).toEqual({
      fb: 0.5,
      ft: 0.9,
      fv: 0.5,
      fcPerp: 0.5,
      fc: 0.5,
      e: 0.9,
    });
    expect(temperatureFactors(126, false).fc).toBe(0.7);
  });
});

describe('incising factor Ci', () => {
  it('touches dimension lumber only and is refused for glued products', () => {
    expect(incisingFactors('dimension', false)).toEqual(ONES);
    expect(incisingFactors('glulam', false)).toEqual(ONES);
    expect(incisingFactors('southern pine dimension', true)).toEqual({
      fb: 0.8,
      ft: 0.8,
      fv: 0.8,
      fcPerp: 1,
      fc: 0.8,
      e: 0.95,
    });
    expect(incisingFactors('timber', true)).toEqual(ONES);
    expect(incisingFactors('southern pine timber', true)).toEqual(ONES);
    for (const family of ['glulam', 'composite'] as const)
      expect(() => incisingFactors(family, true)).toThrow(
        expect.objectContaining({
          path: 'conditions.incised',
          message: 'NDS has an incising factor for sawn lumber only; ask the maker of this product.',
        }),
      );
  });
});

describe('repetitive member factor Cr', () => {
  it('is 1.15, 1.04 or none', () => {
    expect(repetitiveFactor('dimension', true)).toBe(1.15);
    expect(repetitiveFactor('southern pine dimension', true)).toBe(1.15);
    expect(repetitiveFactor('composite', true)).toBe(1.04);
    for (const family of ['timber', 'southern pine timber', 'glulam'] as const)
      expect(repetitiveFactor(family, true)).toBe(1);
    expect(repetitiveFactor('dimension', false)).toBe(1);
  });

  it('needs three members, 24 in apart at most, joined', () => {
    expect(isRepetitive(3, 24, true)).toBe(true);
    expect(isRepetitive(2, 24, true)).toBe(false);
    expect(isRepetitive(3, 24.1, true)).toBe(false);
    expect(isRepetitive(3, 24, false)).toBe(false);
  });
});

describe('bearing area factor Cb', () => {
  it('raises short bearings away from the end', () => {
    expect(bearingAreaFactor(5.99, 3)).toBeCloseTo(1.0626, 4);
    expect(bearingAreaFactor(6, 30)).toBe(1);
    expect(bearingAreaFactor(1.5, 2.99)).toBe(1);
    expect(() => bearingAreaFactor(0, 3)).toThrow(expect.objectContaining({ path: 'bearingLengthIn' }));
  });
});

describe('size factor CF', () => {
  const factors = (species: string, grade: string, size: string) => {
    const member = sawn(species, grade, size);
    return sizeFactors(member.material, member.nominalThicknessIn!, member.nominalWidthIn!, member.depthIn);
  };

  it('knows the light framing grades', () => {
    expect(factors('DF-L', 'Construction', '2x4')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'Standard', '2x3')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'Utility', '2x4')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'Utility', '2x3')).toEqual({ fb: 0.4, ft: 0.4, fc: 0.6 });
    expect(factors('SP', 'Utility', '2x3')).toEqual({ fb: 0.4, ft: 0.4, fc: 0.6 });
    expect(factors('SP', 'Utility', '2x4')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'Stud', '2x4')).toEqual({ fb: 1.1, ft: 1.1, fc: 1.05 });
    expect(factors('DF-L', 'Stud', '2x6')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'Stud', '2x8')).toEqual({ fb: 1.2, ft: 1.2, fc: 1.05 });
  });

  it('holds the size effect of Southern Pine up to 12 in at 1', () => {
    expect(factors('SP', 'No.2', '2x12')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('SP', 'No.2', '4x14').fb).toBeCloseTo(0.99, 12);
    expect(factors('SP', 'No.2', '4x8')).toEqual({ fb: 1.1, ft: 1, fc: 1 });
    expect(factors('SP', 'No.2', '3x8').fb).toBe(1);
    expect(factors('SP', 'No.2', '2x14')).toEqual({ fb: 0.9, ft: 0.9, fc: 0.9 });
  });

  it('falls with the depth of timbers over 12 in and leaves glued wood alone', () => {
    expect(factors('DF-L', 'No.1', '6x12')).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(factors('DF-L', 'No.1', '6x16').fb).toBeCloseTo((12 / 15.5) ** (1 / 9), 12);
    expect(factors('SP', 'No.1', '6x16')).toMatchObject({ ft: 1, fc: 1 });
    expect(sizeFactors(lvl(14, 2).material, 1.75, 14, 14)).toEqual({ fb: 1, ft: 1, fc: 1 });
    expect(sizeFactors(glulam('24F-V4', 5.125, 18).material, 5, 18, 18)).toEqual({ fb: 1, ft: 1, fc: 1 });
    // Exactly 12 in is not over 12 in.
    expect(sizeFactors(sawn('DF-L', 'No.1', '6x12').material, 6, 12, 12).fb).toBe(1);
  });
});

describe('flat use factor Cfu', () => {
  it('is stepped by width', () => {
    const { material } = sawn('DF-L', 'No.2', '2x6');
    expect([2, 3, 4, 5, 6, 8, 10, 12].map((width) => flatUseFactor(material, 2, width))).toEqual([
      1, 1, 1.1, 1.1, 1.15, 1.15, 1.2, 1.2,
    ]);
    expect([4, 5, 6, 8, 10, 12].map((width) => flatUseFactor(material, 4, width))).toEqual([
      1, 1.05, 1.05, 1.05, 1.1, 1.1,
    ]);
  });

  it('reduces beams and stringers on the flat by grade, posts not', () => {
    const flat = (grade: string, size: string, species = 'DF-L') =>
      flatUseFactor(sawn(species, grade, size).material, 6, 12);
    expect(flat('SS', '6x12')).toBe(0.86);
    expect(flat('No.1', '6x12')).toBe(0.74);
    expect(flat('No.2', '6x12')).toBe(1);
    expect(flat('SS', '6x6')).toBe(1);
    expect(flat('SS', '6x12', 'SP')).toBe(0.86);
    expect(flatUseFactor(lvl(14, 1).material, 2, 14)).toBe(1);
    expect(flatUseFactor(glulam('24F-V4', 5.125, 18).material, 2, 8)).toBe(1);
  });
});

describe('volume factor CV', () => {
  it('is 1 for sawn lumber, depth alone for composites', () => {
    expect(volumeFactor(undefined, 3, 9, 100)).toBe(1);
    const { volume } = lvl(12, 1).material;
    expect(volumeFactor(volume, 1.75, 12, 100)).toBe(1);
    expect(volumeFactor(volume, 1.75, 24, 100)).toBeCloseTo(0.5 ** 0.136, 12);
    expect(volumeFactor(volume, 1.75, 6, 100)).toBeCloseTo(2 ** 0.136, 12);
  });

  it('takes no more width than one lamination has', () => {
    const { volume } = glulam('24F-V4', 12.25, 30).material;
    const capped = ((21 / 20) * (12 / 30) * (5.125 / 10.75)) ** 0.1;
    expect(volumeFactor(volume, 12.25, 30, 240)).toBeCloseTo(capped, 12);
    expect(volumeFactor(volume, 10.75, 30, 240)).toBeCloseTo(capped, 12);
  });
});
