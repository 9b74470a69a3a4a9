import { describe, expect, it } from 'vitest';
import sharp from 'sharp';
import { takeOffLoads } from '../../../src/engineering/loads/take-off/take-off.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import { layOutOpening } from '../../../src/engineering/layout/index.ts';
import {
  beamPictures,
  layoutPicture,
  nailingPicture,
  surveyPicture,
} from '../../../src/report/pictures/index.ts';
import { row } from '../../engineering/fasteners/rows.ts';
import { beam, editions, footing, support } from '../../engineering/layout/layout-fixtures.ts';
import { criteria, survey } from '../../engineering/loads/cinder-ferry.ts';

const supports = [support('left'), support('right')];
const footings = [footing('left'), footing('right')];
const text = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((match) =>
    match[1]!.replaceAll('&#39;', "'").replaceAll('&quot;', '"').replaceAll('&amp;', '&'),
  );

async function draws(svg: string): Promise<void> {
  await expect(sharp(Buffer.from(svg)).png().toBuffer()).resolves.toBeInstanceOf(Buffer);
}

describe('pictures of a beam', () => {
  const [loads, diagrams] = beamPictures('b1', { survey, criteria, beam, supports, footings });
  const { actions } = calculateBeam(survey, criteria, beam);

  it('draws every load of the take-off that is not zero, and both reactions', async () => {
    await draws(loads!.svg);
    const words = text(loads!.svg);
    const lines = actions.loads.filter((load) => load.form === 'line' && load.loadPlf !== 0);
    expect(words.filter((one) => one.endsWith(' plf'))).toHaveLength(lines.length);
    const braces = words.filter((one) => one.startsWith('Brace'));
    expect(braces.length).toBeGreaterThanOrEqual(6);
    const reactions = words.filter((one) => /^(Left|Right), /.test(one));
    expect(reactions).toHaveLength(2);
    const largest = Math.round(actions.envelope.reactions[0]!.forceLb.max.value).toLocaleString('en-US');
    expect(reactions[0]).toContain(`${largest} lb`);
  });

  it('names the exact extremes of the statics', async () => {
    await draws(diagrams!.svg);
    const moment = Math.round(actions.envelope.momentLbIn.max.value / 12).toLocaleString('en-US');
    expect(text(diagrams!.svg).join('\n')).toContain(`${moment} lb-ft at `);
  });

  it('is drawn before supports and footings are proposed', async () => {
    const [early] = beamPictures('b2', { survey, criteria, beam, supports: [], footings: [] });
    await draws(early!.svg);
    expect(early!.svg).not.toMatch(/Flush: /);
  });

  it('says how a flush beam lies to the joists, by the height of its packs', () => {
    const said = (heightIn: number) => {
      const packs = supports.map((one) => ({ ...one, heightIn }));
      const [drawn] = beamPictures('b3', { survey, criteria, beam, supports: packs, footings: [] });
      return text(drawn!.svg).find((words) => words.startsWith('Flush: '));
    };
    // A wall of 97 1/8 in over a plate of 1 1/2.
    expect(survey.wallHeightIn).toBe(97.125);
    expect(said(95.625)).toBe('Flush: its underside is level with that of the joists on its faces.');
    expect(said(93)).toBe(`Flush: its underside is 2 5/8" below that of the joists on its faces.`);
  });
});

describe('picture of a survey', () => {
  it('draws what bears on the whole wall, before there is a beam', async () => {
    const { svg } = surveyPicture('s1', survey, criteria);
    await draws(svg);
    const words = text(svg);
    const { loads } = takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' });
    const lines = loads.filter((load) => load.form === 'line' && load.loadPlf !== 0);
    expect(lines.length).toBeGreaterThan(3);
    expect(words.filter((one) => one.endsWith(' plf'))).toHaveLength(lines.length);
    expect(words.filter((one) => one.startsWith('Brace')).length).toBeGreaterThanOrEqual(6);
    expect(svg).not.toContain('dw-piece--beam');
  });
});

describe('picture of the layout', () => {
  it('carries every mark with its distance', async () => {
    const layout = layOutOpening({ survey, beam, supports, footings, editions });
    const { svg } = layoutPicture('l1', layout);
    await draws(svg);
    const words = text(svg).join('\n');
    for (const mark of layout.marks) expect(words).toContain(`${mark.label}  ${mark.tape}`);
  });
});

describe('picture of a fastening row', () => {
  it('shows every fastener of the joint and names it', async () => {
    const { svg } = nailingPicture('n1', row(), editions, '.162 x 3 1/2" nail');
    await draws(svg);
    expect(svg.match(/data-nail="near"/g)).toHaveLength(3 + 1);
    expect(text(svg)).toContain('.162 x 3 1/2" nail');
  });

  it('flags what the schedule finds wrong, with its sentence', async () => {
    const crowded = row({ endDistanceIn: 0.5 });
    const { svg } = nailingPicture('n2', crowded, editions, 'nail');
    await draws(svg);
    expect(svg).toMatch(/dw-flags/);
    expect(text(svg).join(' ')).toMatch(/end/i);
  });
});
