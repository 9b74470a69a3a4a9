import { describe, expect, it } from 'vitest';
import { layOutOpening } from '../../../../src/engineering/layout/index.ts';
import type { Support } from '../../../../src/engineering/proposal/design.ts';
import { Refusal } from '../../../../src/engineering/trace/index.ts';
import { textWidth } from '../../../../src/report/drawings/pens.ts';
import type { Figure, FigureMark } from '../../../../src/report/drawings/scaled/figure.ts';
import {
  atLargestScale,
  elevationFigure,
  figuresDxf,
  figureSvg,
  sectionFigure,
} from '../../../../src/report/drawings/scaled/index.ts';
import { linesOf } from '../../../../src/report/drawings/scaled/parts.ts';
import { fits, SCALES } from '../../../../src/report/drawings/scaled/scales.ts';
import { beam, layoutInput, support } from '../../../engineering/layout/layout-fixtures.ts';
import { HOSTILE } from '../samples.ts';
import { drawnOpening } from './opening.ts';

const room = { widthIn: 10, heightIn: 7.5 };
const elevation = (opening = drawnOpening()) =>
  atLargestScale((scale) => elevationFigure(opening, scale), room);
const section = (end: 'left' | 'right', opening = drawnOpening()) =>
  atLargestScale((scale) => sectionFigure(opening, end, scale), room);

const outlines = (figure: Figure) => figure.marks.filter((mark) => mark.form === 'outline');
const texts = (figure: Figure) =>
  figure.marks.flatMap((mark) =>
    mark.form === 'words' ? [mark.text] : mark.form === 'dimension' ? [mark.words.text] : [],
  );

const wood = { species: 'DF-L', grade: 'No.2', size: '2x6' };
const squashBlocks = { ...wood, count: 3, heightIn: 9.25, on: wood, endDistanceIn: 12 };
const girderPost = {
  ...wood,
  size: '6x6',
  heightIn: 48,
  girder: { ...wood, size: '2x10', plies: 3 },
  girderEndDistanceIn: 60,
  offPostIn: 6,
};
const cut = (change: Partial<Support>) => {
  const figure = section('left', drawnOpening({}, { supports: [{ ...support('left'), ...change }] }));
  return { figure, of: (piece: string) => outlines(figure).find((one) => one.piece === piece) };
};
const onGirder = () => cut({ squashBlocks, girderPost });

describe('the elevation', () => {
  it('holds every piece at its own place and size, in inches', () => {
    const { layout } = drawnOpening();
    const figure = elevation();
    for (const piece of layout.pieces) {
      expect(outlines(figure)).toContainEqual(
        expect.objectContaining({
          piece: piece.label,
          x: piece.fromIn,
          y: piece.bottomIn,
          width: piece.toIn - piece.fromIn,
          height: piece.topIn - piece.bottomIn,
        }),
      );
    }
    // By hand: opening 20 to 150, 4 1/2 in of bearing at each end, jacks 90 on a plate of 1 1/2.
    const drawn = outlines(figure).find(({ layer }) => layer === 'BEAM');
    expect(drawn).toMatchObject({ x: 15.5, y: 91.5, width: 139, height: 11.875 });
  });

  it('says the clear width, the length of the beam, the height under it, and the datum', () => {
    const found = texts(elevation());
    for (const words of [`10'-10" clear`, `11'-7"`, `7'-7 1/2"`, `11 7/8"`, `14'-2"`])
      expect(found).toContain(words);
    expect(found.join(' ')).toContain('left cross wall, room face');
  });

  it('marks the cuts of the top plates only where the beam takes their place', () => {
    const cuts = (figure: Figure) =>
      figure.marks.filter((mark) => 'layer' in mark && mark.layer === 'CUT LINES');
    expect(cuts(elevation())).toHaveLength(4);
    expect(cuts(elevation(drawnOpening({ beam: { ...beam, placement: 'dropped' } })))).toHaveLength(2);
  });
});

describe('a section', () => {
  it('writes its sides clear of the lines of its dimensions', () => {
    const { scale, marks } = section('left');
    const lines = marks.flatMap((mark) => (mark.form === 'dimension' ? linesOf(mark, scale) : []));
    for (const side of ['front', 'rear']) {
      const words = marks.find((mark) => mark.form === 'words' && mark.text === side);
      if (words?.form !== 'words') throw new Error(`${side} is not written`);
      const wide = textWidth(side, words.heightIn);
      const left = words.anchor === 'end' ? words.at.x - wide : words.at.x;
      const struck = lines.filter(
        ({ from, to }) =>
          from.y === to.y &&
          from.y > words.at.y &&
          from.y < words.at.y + words.heightIn * 0.73 &&
          Math.max(from.x, to.x) > left &&
          Math.min(from.x, to.x) < left + wide,
      );
      expect({ side, struck }).toEqual({ side, struck: [] });
    }
  });

  it('is cut where a support is, ply by ply, with the joists cut clear of the beam', () => {
    const figure = section('left');
    expect(outlines(figure).map(({ layer }) => layer)).toEqual([
      'FOOTINGS',
      'PLATES',
      'JACKS AND POSTS',
      'BEAM',
      'BEAM',
      'BEAM',
      'JOISTS',
      'JOISTS',
      'NOTES',
      'NOTES',
    ]);
    // Half of 5 1/4 in of plies and 1/16 in of air.
    const cuts = figure.marks.flatMap((mark) =>
      mark.form === 'stroke' && mark.layer === 'CUT LINES' ? [mark.from.x] : [],
    );
    expect(cuts).toEqual([-2.6875, 2.6875]);
    const layout = layOutOpening(layoutInput({ supports: [support('left')] }));
    expect(() => section('right', { ...drawnOpening(), layout })).toThrow(Refusal);
  });

  it('carries the pack through a framed floor: blocks, girder cut, post behind the cut, concrete under all of it', () => {
    const whole = onGirder();
    expect(whole.of('squash blocks')).toMatchObject({ width: 5.5, height: 9.25, y: -9.25 });
    expect(whole.of('girder')).toMatchObject({ width: 4.5, height: 9.25, y: -18.5, hatching: 'end grain' });
    expect(whole.of('post under the girder')).toMatchObject({
      width: 5.5,
      height: 48,
      y: -66.5,
      hidden: true,
    });
    const pad = whole.of('pad');
    expect((pad?.y ?? 0) + (pad?.height ?? 0)).toBe(-66.5);
    for (const name of ['squash blocks', 'girder', 'post under the girder']) {
      expect(whole.figure.marks.some((mark) => mark.form === 'words' && mark.text === name)).toBe(true);
    }
    const svg = figureSvg('section', whole.figure).markup;
    expect(svg).toContain('data-piece="girder"');
    expect(figuresDxf([whole.figure])).toContain('squash blocks');

    const onSill = cut({ squashBlocks });
    expect(onSill.of('wood under the blocks')).toMatchObject({ width: 5.5, height: 1.5, y: -10.75 });
    expect(onSill.of('girder')).toBeUndefined();
    expect(
      cut({ squashBlocks, girderPost: { ...girderPost, offPostIn: 0 } }).of('post under the girder')?.hidden,
    ).toBeUndefined();
    expect(cut({}).of('squash blocks')).toBeUndefined();
  });

  it('draws a rolled shape by its flanges and web, a flitch with its plate between the plies', () => {
    const steel = section(
      'left',
      drawnOpening({ beam: { ...beam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } } }),
    );
    const parts = outlines(steel).filter(({ layer }) => layer === 'BEAM');
    const area = parts.reduce((sum, { width, height }) => sum + width * height, 0);
    // AISC Manual Table 1-1: A = 5.26 in² with the fillets, which a drawing leaves out.
    expect(area).toBeGreaterThan(5.26 * 0.95);
    expect(area).toBeLessThan(5.26);
    const flitch = section(
      'left',
      drawnOpening({
        beam: {
          ...beam,
          member: {
            kind: 'flitch',
            species: 'DF-L',
            grade: 'No.2',
            size: '2x12',
            woodPlies: 2,
            plateThicknessIn: 0.5,
            plateDepthIn: 11,
            plates: 1,
            boltDiameterIn: 0.5,
            boltSpacingIn: 16,
          },
        },
      }),
    );
    const hatchings = outlines(flitch).flatMap(({ layer, hatching }) => (layer === 'BEAM' ? [hatching] : []));
    expect(hatchings).toEqual(['end grain', 'steel', 'end grain']);
  });
});

describe('any view', () => {
  it('keeps inside its bounds and is as large as an architect’s rule lets it be', () => {
    for (const [index, draw] of [
      (scale: (typeof SCALES)[number]) => elevationFigure(drawnOpening(), scale),
      (scale: (typeof SCALES)[number]) => sectionFigure(drawnOpening(), 'right', scale),
    ].entries()) {
      const figure = atLargestScale(draw, room);
      expect(fits(figure, figure.scale, room), `view ${index}`).toBe(true);
      const larger = SCALES[SCALES.indexOf(figure.scale) - 1];
      if (larger) expect(fits(draw(larger), larger, room)).toBe(false);
      for (const { x, y, width, height } of outlines(figure)) {
        expect(x).toBeGreaterThanOrEqual(figure.bounds.left);
        expect(y).toBeGreaterThanOrEqual(figure.bounds.bottom);
        expect(x + width).toBeLessThanOrEqual(figure.bounds.right);
        expect(y + height).toBeLessThanOrEqual(figure.bounds.top);
      }
    }
  });

  it('measures on paper what its scale says', () => {
    const figure = elevation();
    const svg = figureSvg('elevation', figure).markup;
    const paperIn = Number(/ width="([\d.]+)in"/.exec(svg)?.[1]);
    const [, units = '0'] = /viewBox="0 0 ([\d.]+) /.exec(svg) ?? [];
    const beamUnits = Number(/<rect[^>]* width="([\d.]+)"[^>]*data-piece="[^"]*LVL/.exec(svg)?.[1]);
    const onPaperIn = (beamUnits / Number(units)) * paperIn;
    expect(onPaperIn).toBeCloseTo(139 * figure.scale.paperPerInch, 2);
  });

  it('lays no words on others', () => {
    for (const figure of [elevation(), section('left'), section('right'), onGirder().figure]) {
      const boxes = figure.marks.flatMap((mark) => wordsBox(mark));
      for (const [index, one] of boxes.entries()) {
        for (const other of boxes.slice(index + 1)) {
          const apart =
            one.right <= other.left ||
            other.right <= one.left ||
            one.top <= other.bottom ||
            other.top <= one.bottom;
          expect(apart, `“${one.text}” and “${other.text}”`).toBe(true);
        }
      }
    }
  });

  it('writes what people wrote as words, however long or hostile', () => {
    const long = `${HOSTILE} ${'very long words '.repeat(40)}`;
    const opening = drawnOpening(
      {},
      { beamWords: long, supportWords: { left: long, right: long }, notes: [{ text: long, warns: true }] },
    );
    const hostile = { ...opening, layout: { ...opening.layout, datum: long } };
    for (const figure of [elevation(hostile), section('left', hostile)]) {
      const svg = figureSvg(figure.name, figure).markup;
      expect(svg).not.toContain('<script');
      expect(svg).toContain('&lt;script');
      expect(svg).not.toContain('\u0000');
    }
  });
});

function wordsBox(mark: FigureMark) {
  const words = mark.form === 'words' ? mark : mark.form === 'dimension' ? mark.words : undefined;
  if (words === undefined) return [];
  // Measured more tightly than the drawing table does: about what the type takes.
  const width = words.text.length * words.heightIn * 0.5;
  const before = { start: 0, middle: width / 2, end: width }[words.anchor];
  const { x, y } = words.at;
  const { heightIn: high, text } = words;
  return words.upright === true
    ? [{ text, left: x - high * 0.75, right: x, bottom: y - before, top: y - before + width }]
    : [{ text, left: x - before, right: x - before + width, bottom: y, top: y + high * 0.75 }];
}
