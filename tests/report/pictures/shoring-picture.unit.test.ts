import { describe, expect, it } from 'vitest';
import { demoShoring, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { shoringPieces } from '../../../src/engineering/materials-list/index.ts';
import type { Shoring } from '../../../src/engineering/proposal/design.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import { qty, Refusal } from '../../../src/engineering/trace/index.ts';
import { shoringPictures, type ShoringProposal } from '../../../src/report/pictures/index.ts';
import { beam } from '../../engineering/layout/layout-fixtures.ts';
import { CLOSE, draws, readFigure } from './read-figure.ts';

const both: Shoring = { ...demoShoring, offsetIn: 36, storeysShored: 2, bracesRelanded: true };

function pictures(
  change: Partial<Shoring> = {},
  rest: Partial<ShoringProposal> = { beam },
  survey: Survey = demoSurvey,
) {
  const shoring = { ...both, ...change };
  const [section, elevation] = shoringPictures('s', { shoring, survey, ...rest });
  if (section === undefined || elevation === undefined) throw new Error('Two pictures were asked for.');
  return { section, elevation };
}

const middle = ({ x, width }: { readonly x: number; readonly width: number }) => x + width / 2;

describe('pictures of the temporary walls', () => {
  it('show both at their distance from the old wall, as high as it, to scale', async () => {
    const { section } = pictures();
    await draws(section);
    const read = readFigure(section);
    const old = read.box('old wall');
    expect(old.height).toBeCloseTo(97.125, CLOSE);
    expect(old.width).toBeCloseTo(5.5, CLOSE);
    const studs = read.boxes('stud');
    expect(studs.map((stud) => Math.round(middle(stud) - middle(old)))).toEqual([-36, 36]);
    // By hand: 97 1/8 less a sole and two top plates of 1 1/2.
    for (const stud of studs) expect(stud.height).toBeCloseTo(92.625, CLOSE);
    expect(read.boxes('top plate')).toHaveLength(4);
    expect(read.boxes('sole')).toHaveLength(2);
    expect(read.boxes('bracing')).toHaveLength(2);
    expect(read.box('slab').height).toBeCloseTo(3.5, CLOSE);
    expect(read.words.filter((words) => words === `3'-0"`)).toHaveLength(2);
    expect(read.text).toContain('not a procedure');
    expect(read.description).toContain(`2 temporary walls on both sides, 3'-0"`);
  });

  it.each([
    { sides: 'both', studSpacingIn: 16, walls: 4 },
    { sides: 'rear', studSpacingIn: 24, walls: 2 },
    { sides: 'front', studSpacingIn: 12.5, walls: 2 },
  ] as const)(
    'show as many studs as the list of material has, at $studSpacingIn in',
    async ({ walls, ...change }) => {
      const { elevation } = pictures(change);
      await draws(elevation);
      const read = readFigure(elevation);
      const listed = shoringPieces({ ...both, ...change }, 139, demoSurvey.wallHeightIn).studsIn;
      const studs = read.boxes('stud').sort((a, b) => a.x - b.x);
      expect(studs).toHaveLength(listed.length / walls);
      for (const stud of studs) expect(stud.height).toBeCloseTo(listed[0] ?? 0, CLOSE);
      // None lies on another, none past its plate, and none is further from the next than the spacing.
      const sole = read.box('sole');
      expect(studs[0]?.x).toBeGreaterThan(sole.x - 0.05);
      expect((studs.at(-1)?.x ?? 0) + 1.5).toBeLessThan(sole.x + sole.width + 0.05);
      studs.slice(1).forEach((stud, index) => {
        const apart = stud.x - (studs[index]?.x ?? 0);
        expect(apart).toBeGreaterThan(1.45);
        expect(apart).toBeLessThan(change.studSpacingIn + 0.05);
      });
      // 12 in past either end of a beam of 139 in.
      expect(sole.width).toBeCloseTo(163, CLOSE);
      expect(read.words).toEqual(expect.arrayContaining([`13'-7"`, `11'-7"`]));
      expect(read.description).toContain(`${listed.length / walls} studs`);
    },
  );

  it('show one side alone where one is shored, and rows of bracing as they are counted', () => {
    const { section, elevation } = pictures({ sides: 'rear', midHeightBracingIn: 24 });
    const read = readFigure(section);
    const [stud, ...more] = read.boxes('stud');
    expect(more).toEqual([]);
    expect(stud?.x).toBeGreaterThan(read.box('old wall').x);
    // 92 5/8 in in four parts of at most 24.
    expect(readFigure(elevation).boxes('bracing')).toHaveLength(3);
    const bare = pictures({ midHeightBracingIn: 0 });
    expect(readFigure(bare.elevation).boxes('bracing')).toEqual([]);
    expect(bare.section.svg).toMatch(/dw-text--crayon[^>]*>studs not braced/);
  });

  it('say what comes on a stud and on the soil, as calculated, and warn of what is too much', () => {
    const soil = { demand: qty(1835, 'psf'), capacity: qty(1500, 'psf'), passes: false };
    const loads = { front: qty(1034, 'lb'), rear: qty(1200, 'lb') };
    const { section } = pictures({}, { beam, loads, soil: { rear: soil } });
    const read = readFigure(section);
    expect(read.words).toEqual(expect.arrayContaining(['1,034 lb a stud', '1,200 lb a stud']));
    expect(read.description).toContain('Load of a stud: front 1,034 lb, rear 1,200 lb');
    expect(section.svg).toMatch(/dw-text--crayon[^>]*>Under the rear sole/);
    expect(read.text).toContain('1,835 psf; no more than 1,500 psf is allowed');
  });

  it('reach past the opening before there is a beam', () => {
    const read = readFigure(pictures({}, {}).elevation);
    expect(read.box('sole').width).toBeCloseTo(130 + 24, CLOSE);
    expect(read.description).toContain('past both ends of the opening');
  });

  it('say what stands in their place below a framed floor, and what is not drawn', () => {
    const survey: Survey = { ...demoSurvey, below: 'crawlspace' };
    const { section } = pictures({ soleOn: 'joists across' }, { beam }, survey);
    const read = readFigure(section);
    expect(read.boxes('slab')).toEqual([]);
    expect(read.text).toContain('sole on joists that run across it');
    expect(read.text).toMatch(
      /Not drawn: 1 other storey shored, the shores straight below, .* 6 roof braces/,
    );
  });

  it('are refused for lumber that there is not, and under a ceiling with no room for a stud', () => {
    expect(() => pictures({ studSize: '2x9' })).toThrow(Refusal);
    expect(() => pictures({}, { beam }, { ...demoSurvey, wallHeightIn: 4 })).toThrow(Refusal);
  });
});
