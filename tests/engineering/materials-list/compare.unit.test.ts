import { describe, expect, it } from 'vitest';
import { differences, goodsSchema, type Goods } from '../../../src/engineering/materials-list/index.ts';

const ply: Goods = { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 9.5, lengthIn: 144 };
const stud: Goods = {
  kind: 'sawn',
  species: 'DF-L',
  grade: 'No.2',
  size: '2x6',
  treated: false,
  lengthIn: 96,
};
const nail: Goods = { kind: 'nail', style: 'common', diameterIn: 0.162, lengthIn: 3.5 };
const fields = (calledFor: Goods, delivered: Goods, least?: number) =>
  differences(calledFor, delivered, least).map((one) => one.field);

describe('what arrived against what was called for', () => {
  it('finds nothing where they are the same', () => {
    for (const goods of [ply, stud, nail]) expect(fields(goods, goods)).toEqual([]);
  });

  it('1.9E plies for 2.0E: the class, in words', () => {
    expect(differences(ply, { ...ply, class: 'LVL 1.9E' })).toEqual([
      { field: 'class', sentence: 'Called for LVL 2.0E; LVL 1.9E arrived.' },
    ]);
  });

  it.each([
    ['species', { species: 'SPF' }],
    ['grade', { grade: 'No.3' }],
    // A better grade, too: it is not the site's to say that it will do.
    ['grade', { grade: 'Select Structural' }],
    ['size', { size: '2x4' }],
    ['treated', { treated: true }],
    ['lengthIn', { lengthIn: 92 }],
    ['thicknessIn', { thicknessIn: 1.375 }],
    ['depthIn', { depthIn: 5.25 }],
  ])('a stud that differs in its %s', (field, change) => {
    expect(fields(stud, { ...stud, ...change })).toEqual([field]);
  });

  it('reads a stamp however it is written, and a size as a tape shows it', () => {
    expect(
      fields(stud, { ...stud, species: 'df-l', grade: '#2', thicknessIn: 1.5625, depthIn: 5.4375 }),
    ).toEqual([]);
    expect(fields(ply, { ...ply, thicknessIn: 1.8125, depthIn: 9.4375 })).toEqual([]);
    expect(fields(ply, { ...ply, depthIn: 9.25 })).toEqual(['depthIn']);
  });

  it('takes a longer stick, and a shorter one that still gives its pieces', () => {
    expect(fields(ply, { ...ply, lengthIn: 168 })).toEqual([]);
    expect(fields(ply, { ...ply, lengthIn: 140 })).toEqual(['lengthIn']);
    expect(fields(ply, { ...ply, lengthIn: 140 }, 139)).toEqual([]);
    expect(differences(ply, { ...ply, lengthIn: 120 }, 139)[0]!.sentence).toBe(
      'Called for 12\'-0" long (11\'-7" would do); 10\'-0" arrived.',
    );
  });

  it('knows a box nail from a common one by its diameter, not its penny name', () => {
    expect(fields(nail, { ...nail, style: 'box', diameterIn: 0.135 })).toEqual(['diameterIn']);
    expect(fields(nail, { ...nail, style: 'sinker', lengthIn: 3.25 })).toEqual(['diameterIn']);
    expect(fields(nail, { ...nail, style: 'pneumatic', diameterIn: 0.16 })).toEqual([]);
    expect(fields(nail, { ...nail, style: 'duplex' })).toEqual(['style']);
  });

  it('weaker concrete differs, stronger does not; another kind of thing is no substitute', () => {
    const mix: Goods = { kind: 'concrete', strengthPsi: 3000 };
    expect(fields(mix, { kind: 'concrete', strengthPsi: 2500 })).toEqual(['strengthPsi']);
    expect(fields(mix, { kind: 'concrete', strengthPsi: 4000 })).toEqual([]);
    expect(fields(ply, stud)).toEqual(['kind']);
  });

  it('refuses nonsense at the edge', () => {
    for (const wrong of [{ lengthIn: 0 }, { lengthIn: NaN }, { lengthIn: Infinity }, { class: '' }])
      expect(goodsSchema.safeParse({ ...ply, ...wrong }).success).toBe(false);
  });
});
