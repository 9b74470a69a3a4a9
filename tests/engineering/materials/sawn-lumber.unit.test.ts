import { describe, expect, it } from 'vitest';
import { sawnSize } from '../../../src/engineering/materials/lumber-sizes.ts';
import { gradeCode, gradesFor, sawnMaterial } from '../../../src/engineering/materials/sawn-lumber.ts';
import { southernPineWidth, table4b, TABLE_4B_GRADES } from '../../../src/engineering/materials/table-4b.ts';
import { table4d } from '../../../src/engineering/materials/table-4d.ts';
import {
  findSpecies,
  SPECIES_CODES,
  woodDensityPcf,
} from '../../../src/engineering/materials/wood-species.ts';

describe('species', () => {
  it('are found by code or full name, whatever the case', () => {
    expect(findSpecies('DF-L').label).toBe('Douglas Fir-Larch');
    expect(findSpecies(' hem-fir ').code).toBe('HF');
    expect(findSpecies('spf')).toEqual({ code: 'SPF', label: 'Spruce-Pine-Fir', specificGravity: 0.42 });
    expect(findSpecies('Southern Pine').specificGravity).toBe(0.55);
  });

  it('are refused by a name that is not held', () => {
    expect(() => findSpecies('Oak', 'beam.species')).toThrow(
      expect.objectContaining({
        path: 'beam.species',
        message: 'Species "Oak" is not held; use DF-L, HF, SPF, SP (grade stamps name one of them).',
      }),
    );
    expect(() => findSpecies('')).toThrow(expect.objectContaining({ path: 'species' }));
  });

  it('weigh what NDS Supplement 3.1.3 says', () => {
    // 62.4 · 0.5 ÷ (1 + 0.009 · 0.5 · 19) · 1.19 and the same at 12 percent.
    expect(woodDensityPcf(0.5)).toBeCloseTo(34.2036, 3);
    expect(woodDensityPcf(0.5, 12)).toBeCloseTo(33.1537, 3);
    expect(woodDensityPcf(0.5, 0)).toBeCloseTo(31.2, 12);
    expect(() => woodDensityPcf(0)).toThrow(expect.objectContaining({ path: 'specificGravity' }));
    expect(() => woodDensityPcf(0.5, -1)).toThrow(expect.objectContaining({ path: 'moisturePercent' }));
  });
});

describe('grade names', () => {
  it.each([
    ['Select Structural', 'SS'],
    ['sel str', 'SS'],
    ['No.1 & Btr', 'No.1&Btr'],
    ['No.1 & Better', 'No.1&Btr'],
    ['No.1/No.2', 'No.2'],
    ['No.3 / Stud', 'No.3'],
    ['Dense Select Structural', 'Dense SS'],
    ['Non-Dense Select Structural', 'Non-Dense SS'],
    ['#2', 'No.2'],
    ['no 2', 'No.2'],
    ['No. 1', 'No.1'],
    [' Stud ', 'Stud'],
    ['Construction', 'Construction'],
  ])('%s is %s', (name, code) => {
    expect(gradeCode(name)).toBe(code);
  });
});

describe('sawn lumber', () => {
  const get = (species: string, grade: string, size: string) =>
    sawnMaterial(species, grade, sawnSize(size), '2018');

  it('carries its table, label, gravity and weight', () => {
    expect(get('DF-L', 'No.2', '2x10')).toEqual({
      family: 'dimension',
      label: 'DF-L No.2',
      clause: { standard: 'NDS Supplement', edition: '2018', section: 'Table 4A', provenance: 'seen' },
      reference: {
        fbPsi: 900,
        ftPsi: 575,
        fvPsi: 180,
        fcPerpPsi: 625,
        fcPsi: 1350,
        ePsi: 1.6e6,
        eminPsi: 580e3,
      },
      fbNegativePsi: 900,
      eminWeakPsi: 580e3,
      fbWeakPsi: 900,
      specificGravity: 0.5,
      densityPcf: woodDensityPcf(0.5),
      species: 'DF-L',
      grade: 'No.2',
      sizeClass: 'dimension',
    });
  });

  it('reads Southern Pine by width and timbers by shape', () => {
    expect(get('SP', 'No.2', '2x10')).toMatchObject({
      family: 'southern pine dimension',
      clause: { section: 'Table 4B', provenance: 'from memory' },
      reference: { fbPsi: 800, ftPsi: 475, fcPsi: 1300, fvPsi: 175, fcPerpPsi: 565 },
    });
    expect(get('SP', 'No.2', '2x14').reference).toEqual(get('SP', 'No.2', '2x12').reference);
    expect(get('DF-L', 'No.1', '6x12')).toMatchObject({
      family: 'timber',
      sizeClass: 'beams and stringers',
      clause: { section: 'Table 4D', provenance: 'from memory' },
      reference: {
        fbPsi: 1350,
        ftPsi: 675,
        fvPsi: 170,
        fcPerpPsi: 625,
        fcPsi: 925,
        ePsi: 1.6e6,
        eminPsi: 580e3,
      },
    });
    expect(get('DF-L', 'No.1', '6x6')).toMatchObject({
      sizeClass: 'posts and timbers',
      reference: { fbPsi: 1200, fcPsi: 1000 },
    });
    expect(get('SP', 'No.1', '6x6')).toMatchObject({
      family: 'southern pine timber',
      reference: { fbPsi: 1350, fcPerpPsi: 375 },
    });
    expect(get('SP', 'No.1 Dense', '6x12').reference).toMatchObject({ fbPsi: 1550, fcPerpPsi: 440 });
    expect(get('HF', 'SS', '6x10').reference).toMatchObject({ fbPsi: 1300, fvPsi: 140, fcPerpPsi: 405 });
    expect(get('SPF', 'No.2', '6x6').reference).toMatchObject({ fbPsi: 500, eminPsi: 370e3, fvPsi: 125 });
  });

  it('reads Stud 8 in and wider as No.3 and says so', () => {
    expect(get('SPF', 'Stud', '2x6')).toMatchObject({ grade: 'Stud', reference: { fbPsi: 675 } });
    expect(get('SPF', 'Stud', '2x6').note).toBeUndefined();
    expect(get('SPF', 'Stud', '2x8')).toMatchObject({
      label: 'SPF Stud',
      grade: 'No.3',
      note: 'Stud 8 in and wider is read as No.3.',
      reference: { fbPsi: 500 },
    });
  });

  it('holds light framing grades up to 4 in wide', () => {
    expect(gradesFor('HF', sawnSize('2x4'))).toEqual([
      'SS',
      'No.1&Btr',
      'No.1',
      'No.2',
      'No.3',
      'Stud',
      'Construction',
      'Standard',
      'Utility',
    ]);
    expect(gradesFor('SPF', sawnSize('2x6'))).toEqual(['SS', 'No.1', 'No.2', 'No.3', 'Stud']);
    expect(gradesFor('SP', sawnSize('2x4'))).toEqual(TABLE_4B_GRADES);
    expect(gradesFor('SP', sawnSize('2x6'))).toHaveLength(11);
    expect(gradesFor('DF-L', sawnSize('6x6'))).toEqual(['SS', 'No.1', 'No.2']);
    expect(gradesFor('SP', sawnSize('6x10'))).toEqual([
      'Dense SS',
      'SS',
      'No.1 Dense',
      'No.1',
      'No.2 Dense',
      'No.2',
    ]);
    expect(() => get('HF', 'Utility', '2x6')).toThrow(
      expect.objectContaining({
        path: 'member.grade',
        message: 'Hem-Fir Utility is not graded as 2x6; there are SS, No.1&Btr, No.1, No.2, No.3, Stud.',
      }),
    );
  });

  it('names the field of a species or grade it does not hold', () => {
    const size = sawnSize('2x4');
    expect(() => sawnMaterial('Oak', 'No.2', size, '2018', 'post')).toThrow(
      expect.objectContaining({ path: 'post.species' }),
    );
    expect(() => sawnMaterial('SP', 'No.9', size, '2018', 'post')).toThrow(
      expect.objectContaining({ path: 'post.grade' }),
    );
  });

  it('has values for every grade of every species and size class, E above Emin, Fc⊥ by species', () => {
    for (const species of SPECIES_CODES)
      for (const size of ['2x4', '2x6', '2x8', '4x10', '2x14', '6x6', '6x12'].map((name) => sawnSize(name)))
        for (const grade of gradesFor(species, size)) {
          const { reference, label } = sawnMaterial(species, grade, size, '2024');
          expect(label).toBe(`${species} ${grade}`);
          for (const value of Object.values(reference)) expect(value).toBeGreaterThan(0);
          expect(reference.eminPsi / reference.ePsi).toBeGreaterThan(0.35);
          expect(reference.eminPsi / reference.ePsi).toBeLessThan(0.38);
          expect(reference.ftPsi).toBeLessThan(reference.fbPsi);
        }
  });
});

/**
 * Table 4B against the rounded metric values (MPa to 0.1) of a public general-purpose finite element
 * library, which took them from the Southern Pine use guide, metric edition: 2x4, 2x6, 2x8, 2x10, 2x12.
 */
const METRIC: Readonly<Record<string, readonly (readonly number[])[]>> = {
  'Dense SS': [
    [18.6, 16.5, 15.2, 13.4, 12.4],
    [13.1, 11.4, 10.7, 9.0, 8.6],
    [14.1, 13.1, 12.8, 12.4, 12.1],
  ],
  SS: [
    [16.2, 14.5, 13.4, 11.7, 11.0],
    [11.4, 10.0, 9.3, 7.9, 7.6],
    [13.1, 12.4, 11.7, 11.4, 11.4],
  ],
  'Non-Dense SS': [
    [14.1, 12.8, 11.7, 10.3, 9.7],
    [10.0, 9.0, 8.3, 7.2, 6.7],
    [12.4, 11.7, 11.4, 11.0, 10.7],
  ],
  'No.1 Dense': [
    [11.4, 10.3, 9.3, 8.3, 7.6],
    [7.6, 6.9, 6.2, 5.5, 5.2],
    [12.1, 11.4, 11.0, 10.7, 10.3],
  ],
  'No.1': [
    [10.3, 9.3, 8.6, 7.2, 6.9],
    [6.9, 6.0, 5.5, 4.8, 4.5],
    [11.4, 10.7, 10.3, 10.0, 9.7],
  ],
  'No.1 Non-Dense': [
    [9.0, 8.3, 7.6, 6.6, 6.2],
    [6.0, 5.3, 4.8, 4.3, 4.0],
    [10.7, 10.0, 9.7, 9.7, 9.3],
  ],
  'No.2 Dense': [
    [8.3, 7.2, 6.7, 5.9, 5.5],
    [5.2, 4.5, 4.1, 3.6, 3.4],
    [10.3, 10.0, 9.7, 9.3, 9.0],
  ],
  'No.2': [
    [7.6, 6.9, 6.4, 5.5, 5.2],
    [4.7, 4.1, 3.8, 3.3, 3.1],
    [10.0, 9.7, 9.3, 9.0, 8.6],
  ],
  'No.2 Non-Dense': [
    [7.2, 6.6, 6.0, 5.2, 4.8],
    [4.1, 3.6, 3.4, 2.9, 2.8],
    [10.0, 9.3, 9.0, 8.6, 8.6],
  ],
  'No.3': [
    [4.5, 4.0, 3.6, 3.3, 3.1],
    [2.8, 2.4, 2.2, 1.9, 1.7],
    [5.9, 5.5, 5.3, 5.2, 5.0],
  ],
};
const PSI_PER_MPA = 145.0377;

describe('Table 4B, Southern Pine', () => {
  it.each(Object.entries(METRIC))('%s agrees with the metric values seen', (grade, [fb, ft, fc]) => {
    [4, 6, 8, 10, 12].forEach((width, at) => {
      const { values } = table4b(grade, width)!;
      // The metric source is rounded to 0.1 MPa, psi to 25 or 50; half of each may differ.
      const near = (psi: number, mpa: number) => {
        expect(Math.abs(psi - mpa * PSI_PER_MPA)).toBeLessThan(0.05 * PSI_PER_MPA + 25);
      };
      near(values.fbPsi, fb![at]!);
      near(values.ftPsi, ft![at]!);
      near(values.fcPsi, fc![at]!);
    });
  });

  it('reads widths in classes and has no row for light framing wider than 4 in', () => {
    expect([2, 4, 5, 6, 8, 10, 12, 16].map(southernPineWidth)).toEqual([4, 4, 6, 6, 8, 10, 12, 12]);
    expect(table4b('Standard', 4)?.values.fbPsi).toBe(475);
    expect(table4b('Standard', 6)).toBeUndefined();
    expect(table4b('No.9', 4)).toBeUndefined();
    expect(table4b('No.2', 8)?.provenance).toBe('seen');
    expect(table4b('No.1', 8)?.provenance).toBe('from memory');
    expect(table4b('No.2', 6)?.provenance).toBe('from memory');
  });
});

describe('Table 4D, timbers', () => {
  it('has no row for a grade it does not name', () => {
    expect(table4d('DF-L', 'posts and timbers', 'Stud')).toBeUndefined();
  });
});
