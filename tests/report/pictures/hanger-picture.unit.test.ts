import { describe, expect, it } from 'vitest';
import { demoHangers } from '../../../src/demo/cinder-ferry.ts';
import type { Beam, Hanger } from '../../../src/engineering/proposal/design.ts';
import { calculateHanger } from '../../../src/engineering/proposal/hanger.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { hangerPictures } from '../../../src/report/pictures/index.ts';
import { beam, editions } from '../../engineering/layout/layout-fixtures.ts';
import { criteria, survey } from '../../engineering/loads/cinder-ferry.ts';
import { CLOSE, draws, readFigure } from './read-figure.ts';

const [front, rear] = demoHangers as [Hanger, Hanger];

function pictures(hanger: Hanger, on: Beam = beam) {
  const { checks } = calculateHanger(survey, criteria, on, hanger);
  const load = checks.find(({ id }) => id.endsWith('.down'));
  const [side, face] = hangerPictures('h', {
    hanger,
    beam: on,
    nailWords: 'these nails',
    editions,
    ...(load === undefined ? {} : { load }),
  });
  if (side === undefined || face === undefined) throw new Error('Two pictures were asked for.');
  return { side, face, load };
}

describe('pictures of a hanger line', () => {
  it('show joist and beam at one scale with their tops level, and the nail as long as it is', async () => {
    const { side } = pictures(front);
    await draws(side);
    const read = readFigure(side);
    const plies = [1, 2, 3].map((ply) => read.box(`1.75x11.875 LVL 2.0E, ply ${ply}`));
    const joist = read.box('joist');
    for (const ply of plies) {
      expect(ply.width).toBeCloseTo(1.75, CLOSE);
      expect(ply.height / joist.height).toBeCloseTo(11.875 / 9.25, 2);
      expect(ply.y).toBeCloseTo(joist.y, CLOSE);
    }
    // In front is to the left; 1/16 in of air between joist and beam.
    const face = Math.min(...plies.map(({ x }) => x));
    expect(joist.x + joist.width).toBeCloseTo(face - 1 / 16, CLOSE);
    expect(read.box('nail').width).toBeCloseTo(3, CLOSE);
    expect(Math.abs(read.box('nail').x - face)).toBeLessThan(0.1);
    expect(read.words).toEqual(expect.arrayContaining([`9 1/4"`, `11 7/8"`, `2 5/8"`]));
    expect(read.description).toContain(`the beam reaches 2 5/8" below it`);
  });

  it('show as many nails as are driven, and the joists at their spacing', async () => {
    const { face } = pictures({ ...front, nailCount: 23, spacingIn: 19.2 });
    await draws(face);
    const read = readFigure(face);
    const nails = read.boxes('nail');
    expect(nails).toHaveLength(23);
    for (const nail of nails) expect(nail.height).toBeCloseTo(3, CLOSE);
    const [left, right] = read.boxes('joist');
    expect((right?.x ?? 0) - (left?.x ?? 0)).toBeCloseTo(19.2, CLOSE);
    expect(read.description).toContain('these nails');
    const many = readFigure(pictures({ ...front, nailCount: 120 }).face);
    expect(many.boxes('nail')).toHaveLength(0);
    expect(many.text).toContain('too many to lay out');
  });

  it('say what a joist end brings and what is listed, as calculated', () => {
    const { side, load } = pictures(front);
    const asked = Math.round(load?.demand.value ?? 0).toLocaleString('en-US');
    const brings = new RegExp(`one joist end brings ${asked}(\\.\\d)? lb; 1,190 lb is listed`);
    expect(readFigure(side).text).toMatch(brings);
    expect(readFigure(side).description).toMatch(brings);
    const { listing: _listing, ...unlisted } = front;
    const bare = pictures(unlisted).side;
    expect(readFigure(bare).text).toContain('no listing yet');
    expect(bare.svg).toMatch(/dw-text--crayon[^>]*>one joist end/);
  });

  it('let a nail stick out of a beam that is thinner, and a joist reach below one that is shallower', () => {
    const thin: Beam = {
      ...beam,
      member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 9.5, plies: 1 },
    };
    const read = readFigure(pictures({ ...rear, joistSize: '2x12' }, thin).side);
    const ply = read.box('1.75x9.5 LVL 2.0E, ply 1');
    expect(read.box('nail').x).toBeLessThan(ply.x - 1);
    expect(read.box('joist').y + read.box('joist').height).toBeGreaterThan(ply.y + ply.height + 1);
    // At the rear is to the right.
    expect(read.box('joist').x).toBeGreaterThan(ply.x + ply.width);
  });

  it('put wood between the flanges of a steel beam', () => {
    const steel: Beam = { ...beam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } };
    const read = readFigure(pictures(front, steel).side);
    const web = read.box('W8x18, web');
    expect(read.box('wood nailer').x + read.box('wood nailer').width).toBeCloseTo(web.x, CLOSE);
    expect(read.text).toContain('wood nailer');
  });

  it('are refused under a dropped beam and for lumber that there is not', () => {
    const drawn = (change: Partial<Hanger>, placement: Beam['placement'] = 'flush') =>
      hangerPictures('h', {
        hanger: { ...front, ...change },
        beam: { ...beam, placement },
        nailWords: '',
        editions,
      });
    expect(() => drawn({}, 'dropped')).toThrow(Refusal);
    expect(() => drawn({ joistSize: '2x9' })).toThrow(Refusal);
  });
});
