import { describe, expect, it } from 'vitest';
import { onePly, woodMember } from '../../../src/engineering/wood/index.ts';
import { glulam, lvl, sawn } from './wood-fixtures.ts';

describe('a wood member', () => {
  it('is assembled from its plies', () => {
    expect(sawn('DF-L', 'No.2', '2x10', 3)).toMatchObject({
      label: '3-2x10 DF-L No.2',
      plies: 3,
      plyThicknessIn: 1.5,
      depthIn: 9.25,
      breadthIn: 4.5,
      nominalThicknessIn: 2,
      nominalWidthIn: 10,
    });
    expect(sawn('DF-L', 'No.2', '4x12').label).toBe('4x12 DF-L No.2');
    const beam = lvl(11.875, 3);
    expect(beam.label).toBe('3-1.75x11.875 LVL 2.0E');
    expect(beam.section.sectionModulusIn3).toBeCloseTo((5.25 * 11.875 ** 2) / 6, 12);
    // 42 pcf · 5.25 · 11.875 ÷ 144.
    expect(beam.weightPlf).toBeCloseTo(18.1836, 4);
    expect(lvl(14, 1).label).toBe('1.75x14 LVL 2.0E');
    expect(beam.nominalWidthIn).toBeUndefined();
    expect(glulam('24F-V4', 5.125, 18)).toMatchObject({
      label: '5.125x18 Glulam 24F-V4',
      plies: 1,
      breadthIn: 5.125,
      depthIn: 18,
    });
  });

  it('gives one of its plies alone', () => {
    const ply = onePly(sawn('DF-L', 'No.2', '2x6', 3));
    expect(ply).toMatchObject({ label: 'one ply of 3-2x6 DF-L No.2', plies: 1, breadthIn: 1.5 });
    expect(ply.section.areaIn2).toBe(8.25);
    expect(ply.weightPlf).toBeCloseTo(sawn('DF-L', 'No.2', '2x6').weightPlf, 12);
  });

  it.each([
    [{ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x10', plies: 0 }, 'beam.member.plies'],
    [{ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x10', plies: 1.5 }, 'beam.member.plies'],
    [{ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x9', plies: 1 }, 'beam.member.size'],
    [{ kind: 'sawn', species: 'Oak', grade: 'No.2', size: '2x10', plies: 1 }, 'beam.member.species'],
    [{ kind: 'sawn', species: 'HF', grade: 'No.9', size: '2x10', plies: 1 }, 'beam.member.grade'],
    [{ kind: 'glulam', combination: '24F-V4', widthIn: 0, depthIn: 12 }, 'beam.member.widthIn'],
    [{ kind: 'glulam', combination: '24F-V4', widthIn: 5, depthIn: NaN }, 'beam.member.depthIn'],
    [{ kind: 'glulam', combination: 'none', widthIn: 5, depthIn: 12 }, 'beam.member.combination'],
    [{ kind: 'composite', class: 'x', thicknessIn: 1.75, depthIn: 12, plies: 1 }, 'beam.member.class'],
    [
      { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 0, depthIn: 12, plies: 1 },
      'beam.member.thicknessIn',
    ],
    [
      { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: -1, plies: 1 },
      'beam.member.depthIn',
    ],
    [
      { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 12, plies: -1 },
      'beam.member.plies',
    ],
  ] as const)('refuses %j', (choice, path) => {
    expect(() => woodMember(choice, '2018', 'beam.member')).toThrow(expect.objectContaining({ path }));
  });

  it('says why a ply count is refused and takes "member" as the path', () => {
    expect(() =>
      woodMember({ kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x10', plies: 0 }, '2018'),
    ).toThrow(
      expect.objectContaining({
        path: 'member.plies',
        message: 'The number of plies is a whole number, 1 or more.',
      }),
    );
  });

  it('refuses a declared sheet under its own path', () => {
    const declared = {
      report: 'R',
      fbPsi: 0,
      fvPsi: 285,
      fcPerpPsi: 750,
      ePsi: 2e6,
      eminPsi: 1e6,
      specificGravity: 0.5,
      referenceDepthIn: 12,
      depthExponent: 0.1,
      densityPcf: 42,
    };
    expect(() =>
      woodMember(
        { kind: 'composite', class: 'LVL', thicknessIn: 1.75, depthIn: 12, plies: 2, declared },
        '2018',
      ),
    ).toThrow(expect.objectContaining({ path: 'member.declared.fbPsi' }));
  });
});
