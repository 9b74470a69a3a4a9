import { describe, expect, it } from 'vitest';
import { rectangle, SAWN_SIZES, sawnSize } from '../../../src/engineering/materials/lumber-sizes.ts';
import { Refusal } from '../../../src/engineering/trace/refusal.ts';

describe('sizes of sawn lumber', () => {
  it('dresses dimension lumber dry and timbers half an inch under nominal', () => {
    expect(sawnSize('2x10')).toEqual({
      name: '2x10',
      nominalThicknessIn: 2,
      nominalWidthIn: 10,
      thicknessIn: 1.5,
      widthIn: 9.25,
      sizeClass: 'dimension',
    });
    expect(sawnSize('4x14')).toMatchObject({ thicknessIn: 3.5, widthIn: 13.25, sizeClass: 'dimension' });
    expect(sawnSize('3x3')).toMatchObject({ thicknessIn: 2.5, widthIn: 2.5 });
    expect(sawnSize('6x12')).toEqual({
      name: '6x12',
      nominalThicknessIn: 6,
      nominalWidthIn: 12,
      thicknessIn: 5.5,
      widthIn: 11.5,
      sizeClass: 'beams and stringers',
    });
  });

  it('grades a timber more than 2 in wider than thick as a beam (NDS 4.1.3)', () => {
    expect(sawnSize('6x8').sizeClass).toBe('posts and timbers');
    expect(sawnSize('6x10').sizeClass).toBe('beams and stringers');
    expect(sawnSize('5x5').sizeClass).toBe('posts and timbers');
    expect(sawnSize('5x8').sizeClass).toBe('beams and stringers');
  });

  it('holds every size once, the thickness the smaller', () => {
    const names = SAWN_SIZES.map((size) => size.name);
    expect(new Set(names).size).toBe(names.length);
    expect(names.slice(0, 10)).toEqual([2, 3, 4, 5, 6, 8, 10, 12, 14, 16].map((width) => `2x${width}`));
    expect(names.filter((name) => name.startsWith('4x'))).toEqual(
      [4, 5, 6, 8, 10, 12, 14, 16].map((width) => `4x${width}`),
    );
    expect(names.filter((name) => name.startsWith('6x'))).toHaveLength(10);
    for (const size of SAWN_SIZES) {
      expect(size.widthIn).toBeGreaterThanOrEqual(size.thicknessIn);
      expect(Number.isFinite(size.widthIn)).toBe(true);
    }
  });

  it.each(['2x9', '4x2', '10x2', '2x', 'toString', ''])('refuses %s', (name) => {
    expect(() => sawnSize(name, 'beam.size')).toThrow(Refusal);
    try {
      sawnSize(name, 'beam.size');
    } catch (error) {
      expect(error).toMatchObject({
        path: 'beam.size',
        message: `${name} is not a size of structural lumber (2x4, 4x12, 6x10 …).`,
      });
    }
  });

  it('names the field "size" where no path is given', () => {
    expect(() => sawnSize('x')).toThrow(expect.objectContaining({ path: 'size' }));
  });
});

describe('a rectangle', () => {
  it('has the properties of mechanics', () => {
    expect(rectangle(3, 4)).toEqual({ areaIn2: 12, sectionModulusIn3: 8, momentOfInertiaIn4: 16 });
  });

  it('is refused without breadth or depth', () => {
    expect(() => rectangle(0, 4)).toThrow(expect.objectContaining({ path: 'breadthIn' }));
    expect(() => rectangle(3, NaN)).toThrow(expect.objectContaining({ path: 'depthIn' }));
  });
});
