import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hatchDefinitions, KIND_SYMBOL } from '../../../src/report/drawings/load-marks.ts';
import {
  drawDiagrams,
  drawLayoutElevation,
  drawLoadPicture,
  drawNailingPattern,
  drawTimeline,
} from '../../../src/report/drawings/index.ts';
import type { LoadKind } from '../../../src/report/drawings/types.ts';
import { topics } from '../../../src/web/help/topics.ts';
import { colours, contrast } from '../../support/luminance.ts';
import { diagrams, layout, loadPicture, nailing } from './samples.ts';

const asset = (name: string) =>
  readFileSync(new URL(`../../../src/web/assets/${name}.css`, import.meta.url), 'utf8');
const tokens = asset('tokens');
const dark = colours(tokens.slice(tokens.indexOf('@media (prefers-color-scheme: dark)')));
const sheet = { light: '#fafaf6', dark: dark.sheet! };

/** What the style sheet of drawings says in the dark: class → its fill and stroke. */
const inTheDark = new Map<string, { fill?: string; stroke?: string }>();
for (const [, selectors = '', body = ''] of asset('drawings').matchAll(
  /((?:\s*\.dw-[\w-]+,?)+) \{([^}]*)\}/g,
)) {
  const set = Object.fromEntries(
    [...body.matchAll(/(fill|stroke): var\(--([\w-]+)\)/g)].map(([, key = '', name = '']) => [
      key,
      dark[name]!,
    ]),
  );
  for (const [, name = ''] of selectors.matchAll(/\.(dw-[\w-]+)/g)) {
    inTheDark.set(name, { ...inTheDark.get(name), ...set });
  }
}

const drawings: Readonly<Record<string, string>> = {
  loads: drawLoadPicture(loadPicture()),
  diagrams: drawDiagrams(diagrams()),
  nailing: drawNailingPattern(nailing()),
  layout: drawLayoutElevation(layout()),
  ...Object.fromEntries(Object.entries(topics).map(([name, { drawing }]) => [`help ${name}`, drawing()])),
};

interface Shape {
  readonly tag: string;
  readonly fill: string;
  readonly stroke: string;
}

/** The filled shapes of a drawing, as they are coloured in a theme. */
function filled(svg: string, theme: 'light' | 'dark'): Shape[] {
  return [...svg.matchAll(/<(?:rect|path|circle|polygon) ([^>]*)>/g)].flatMap(
    ([tag = '', attributes = '']) => {
      const of = (name: string) => new RegExp(`(?:^| )${name}="([^"]*)"`).exec(attributes)?.[1];
      let fill = of('fill') ?? '#000000';
      let stroke = of('stroke') ?? 'none';
      if (fill === 'none' || fill.startsWith('url(')) return [];
      if (theme === 'dark') {
        for (const name of (of('class') ?? '').split(' ')) {
          fill = inTheDark.get(name)?.fill ?? fill;
          stroke = inTheDark.get(name)?.stroke ?? stroke;
        }
      }
      return [{ tag, fill, stroke }];
    },
  );
}

/** The wash under a curve is a tint: the curve is its edge, drawn by itself. */
const isWash = ({ tag }: Shape) => tag.includes('dw-fill--wash') && tag.includes(' stroke="none"');

describe('drawings in grey', () => {
  for (const theme of ['light', 'dark'] as const) {
    it.each(Object.entries(drawings))(
      `%s, ${theme}: every filled shape stands out by tone or by its edge`,
      (_name, svg) => {
        const lost = filled(svg, theme).filter((shape) => {
          if (isWash(shape)) return false;
          const edge = shape.stroke === 'none' ? 1 : contrast(shape.stroke, shape.fill);
          // Either a line around it that both sides of it stand off from, or a tone that the sheet stands off from.
          const outlined = edge >= 3 && contrast(shape.stroke, sheet[theme]) >= 3;
          return !outlined && contrast(shape.fill, sheet[theme]) < 3;
        });
        expect(lost).toEqual([]);
      },
    );
  }

  it('loads are told apart by their hatch, not by their colour', () => {
    const kinds = Object.keys(KIND_SYMBOL) as LoadKind[];
    const hatches = kinds.map((kind) => / d="([^"]*)"/.exec(hatchDefinitions('x', new Set([kind])))?.[1]);
    expect(hatches.every((one) => one !== undefined && one !== '')).toBe(true);
    expect(new Set(hatches).size).toBe(kinds.length);
    // And by a symbol in the words beside them.
    expect(new Set(Object.values(KIND_SYMBOL)).size).toBe(kinds.length);
  });

  it('days of the timeline are told apart by shape', () => {
    const shapes = (['done', 'planned', 'out of order'] as const).map((is) => {
      const svg = drawTimeline({
        id: 't',
        title: 'Order of work',
        marks: [{ title: 'Wall out', day: 3, dayWords: 'May 4', is }],
        lastDay: 9,
        firstWords: 'May 1',
        lastWords: 'May 10',
        today: null,
      });
      const [mark = ''] = /<circle[^>]*>|<path[^>]*>/.exec(svg) ?? [];
      // A shape and whether it is filled at all: what is left when colours are taken away.
      return `${mark.slice(0, 7)} ${mark.includes(' fill="none"') ? 'open' : 'filled'}`;
    });
    expect(new Set(shapes).size).toBe(3);
  });

  it('cuts differ from edges and centres by their dash', () => {
    const lines = [...drawings.layout!.matchAll(/<line ([^>]*)>/g)].map(([, attributes = '']) => attributes);
    const cuts = lines.filter((one) => one.includes('dw-line--crayon'));
    expect(cuts.length).toBeGreaterThan(0);
    for (const one of cuts) expect(one).toMatch(/stroke-dasharray="8 5"/);
    const others = lines.filter((one) => !one.includes('dw-line--crayon'));
    expect(others.some((one) => one.includes('stroke-dasharray="8 5"'))).toBe(false);
  });

  it('nails of either side are drawn as another shape, filled or open', () => {
    const shapes = (side: string) =>
      new Set(
        [...drawings.nailing!.matchAll(/<(\w+) ([^>]*data-nail="(\w+)"[^>]*)>/g)]
          .filter(([, , , is]) => is === side)
          .map(([, shape, attributes = '']) => {
            const fill = / fill="([^"]*)"/.exec(attributes)?.[1] ?? 'none';
            return `${shape} ${fill !== 'none' && contrast(fill, sheet.light) > 3 ? 'dark' : 'open'}`;
          }),
      );
    const sides = new Set([...drawings.nailing!.matchAll(/data-nail="(\w+)"/g)].map(([, side = '']) => side));
    expect(sides.size).toBeGreaterThan(1);
    const seen = [...sides].flatMap((side) => [...shapes(side)]);
    expect(new Set(seen).size).toBe(seen.length);
  });
});
