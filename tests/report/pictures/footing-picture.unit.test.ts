import { describe, expect, it } from 'vitest';
import type { Footing, Support } from '../../../src/engineering/proposal/design.ts';
import { calculateFooting } from '../../../src/engineering/proposal/footing.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { footingPictures } from '../../../src/report/pictures/index.ts';
import { beam, editions, footing, support } from '../../engineering/layout/layout-fixtures.ts';
import { criteria, survey } from '../../engineering/loads/cinder-ferry.ts';
import { CLOSE, draws, readFigure } from './read-figure.ts';

const { pad: _pad, ...bare } = footing('left');

function pictures(content: Footing, pack: Support = support('left'), counted = beam) {
  const { checks } = calculateFooting(survey, criteria, counted, pack, content);
  const soil = checks.find(({ id }) => id.endsWith('.soil'));
  const [section, plan] = footingPictures('f', {
    footing: content,
    support: pack,
    packWords: 'the pack',
    beam: counted,
    editions,
    ...(soil === undefined ? {} : { soil }),
  });
  if (section === undefined || plan === undefined) throw new Error('Two pictures were asked for.');
  return { section, plan, soil };
}

describe('pictures of a footing', () => {
  it('show a pad as wide, long and thick as it is, with what stands in its middle', async () => {
    const content: Footing = { ...footing('left'), pad: { widthIn: 26, lengthIn: 40, thicknessIn: 14 } };
    const { section, plan } = pictures(content);
    await draws(section);
    await draws(plan);
    const cut = readFigure(section);
    expect(cut.box('new pad').width).toBeCloseTo(26, CLOSE);
    expect(cut.box('new pad').height).toBeCloseTo(14, CLOSE);
    expect(cut.box('bottom plate').width).toBeCloseTo(5.5, CLOSE);
    // The plate stands on the pad, in its middle.
    expect(cut.box('bottom plate').y + cut.box('bottom plate').height).toBeCloseTo(
      cut.box('new pad').y,
      CLOSE,
    );
    expect(cut.box('bottom plate').x + 5.5 / 2).toBeCloseTo(cut.box('new pad').x + 13, CLOSE);
    const above = readFigure(plan);
    const pad = above.box('new pad');
    expect(pad.width / pad.height).toBeCloseTo(26 / 40, 2);
    const jacks = ['jack 1', 'jack 2', 'jack 3'].map((name) => above.box(name));
    for (const jack of jacks) expect(jack).toMatchObject({ dashed: false });
    // By hand: three jacks of 1 1/2 in are 4 1/2 in along the wall, centred on the 40 in of the pad.
    const top = Math.min(...jacks.map(({ y }) => y));
    expect(top - pad.y).toBeCloseTo((40 - 4.5) / 2, CLOSE);
    expect(above.box('king 1').dashed).toBe(true);
    for (const words of [`2'-2"`, `3'-4"`]) expect(above.words).toContain(words);
    expect(cut.words).toEqual(expect.arrayContaining([`2'-2"`, `1'-2"`]));
  });

  it('say what presses on the soil and what is allowed, as calculated, and in the words for who can’t see them', () => {
    const { section, soil } = pictures(footing('left'));
    const asked = Math.round(soil?.demand.value ?? 0).toLocaleString('en-US');
    const read = readFigure(section);
    expect(read.text).toContain(`${asked} psf; 1,500 psf is allowed`);
    expect(read.description).toContain(`${asked} psf`);
    expect(read.description).toContain(`New pad 1'-0" thick under the pack; 2'-6" across`);
    expect(section.svg).not.toContain('dw-text--crayon');
  });

  it('count of concrete that was found no more than takes the load, and warn where the soil takes it not', () => {
    const { section, plan, soil } = pictures({ ...bare, foundWidthIn: 200, foundThicknessIn: 4.25 });
    expect(soil?.passes).toBe(false);
    const cut = readFigure(section);
    expect(cut.box('concrete found').height).toBeCloseTo(4.25, CLOSE);
    expect(cut.box('concrete found').width).toBeLessThan(200);
    // 5 1/2 in of plate and 4 1/4 in on either side of it; along the wall 4 1/2 in of jacks.
    expect(readFigure(plan).box('counted on').width).toBeCloseTo(14, CLOSE);
    expect(readFigure(plan).box('counted on').height).toBeCloseTo(13, CLOSE);
    expect(section.svg).toMatch(/dw-text--crayon[^>]*>presses/);
  });

  it('turn the pack to the opening: up at the left end, down at the right', () => {
    const left = readFigure(pictures(footing('left')).plan);
    expect(left.box('king 1').y).toBeGreaterThan(left.box('jack 1').y);
    const right = readFigure(pictures(footing('right'), support('right')).plan);
    expect(right.box('king 1').y).toBeLessThan(right.box('jack 1').y);
  });

  it('dash a jack that stands beside the end of the beam', () => {
    const short = { ...beam, bearingLeftIn: 3 };
    const plan = readFigure(pictures(footing('left'), support('left'), short).plan);
    expect(['jack 1', 'jack 2', 'jack 3'].map((name) => plan.box(name).dashed)).toEqual([false, false, true]);
  });

  it('say that nothing is known, and show no concrete then', async () => {
    const { section, plan } = pictures({
      ...bare,
      found: 'nothing known',
      foundWidthIn: 0,
      foundThicknessIn: 0,
    });
    await draws(section);
    await draws(plan);
    expect(readFigure(section).text).toContain('Nothing is known');
    expect(readFigure(section).description).toContain('nothing is known');
    expect(section.svg).not.toContain('concrete');
  });

  it('reach through a framed floor down to the concrete', () => {
    const wood = { species: 'DF-L', grade: 'No.2', size: '2x6' };
    const squashBlocks = { ...wood, count: 3, heightIn: 9.25, on: wood, endDistanceIn: 12 };
    const read = readFigure(pictures(footing('left'), support('left', { squashBlocks })).section);
    const blocks = read.box('squash blocks');
    expect(blocks.height).toBeCloseTo(9.25, CLOSE);
    expect(read.box('new pad').y - blocks.y).toBeCloseTo(9.25 + 1.5, CLOSE);
  });

  it('are refused where what was found is narrower than the pack', () => {
    const narrow = { ...bare, foundWidthIn: 4 };
    expect(() =>
      footingPictures('f', { footing: narrow, support: support('left'), packWords: '', beam, editions }),
    ).toThrow(Refusal);
  });
});
