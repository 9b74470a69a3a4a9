import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import {
  drawDiagrams,
  drawLayoutElevation,
  drawLoadPicture,
  drawNailingPattern,
} from '../../../src/report/drawings/index.ts';
import { diagrams, HOSTILE, layout, loadPicture, nailing } from './samples.ts';

const drawn = {
  'load picture': (label?: string) => drawLoadPicture(loadPicture(label)),
  diagrams: (label?: string) => drawDiagrams(diagrams(label)),
  'nailing pattern': (label?: string) => drawNailingPattern(nailing(label)),
  'layout elevation': (label?: string) => drawLayoutElevation(layout(label)),
};
type Attributes = Readonly<Record<string, string>>;

/** Attributes of the elements that carry `mark` in their opening tag, in document order. */
function elements(svg: string, mark: string): Attributes[] {
  return [...svg.matchAll(/<[a-z]+((?:\s[\w:-]+="[^"]*")*)\s*\/?>/g)]
    .map((match) => match[1] ?? '')
    .filter((attributes) => attributes.includes(mark))
    .map((attributes) =>
      Object.fromEntries(
        [...attributes.matchAll(/([\w:-]+)="([^"]*)"/g)].map((pair) => [pair[1]!, pair[2]!]),
      ),
    );
}

function unitsPerInch(svg: string): number {
  return Number(elements(svg, 'data-units-per-inch')[0]!['data-units-per-inch']);
}

/** Coordinates are written to hundredths. */
const CLOSE = 0.011;

describe.each(Object.entries(drawn))('%s', (_name, draw) => {
  it('is well-formed XML that an independent parser (librsvg, libxml2) draws', async () => {
    const { info, data } = await sharp(Buffer.from(draw())).raw().toBuffer({ resolveWithObject: true });
    expect(info.width).toBeGreaterThan(100);
    expect(new Set(data).size).toBeGreaterThan(10);
  });

  it('keeps hostile words as words', async () => {
    const svg = draw(HOSTILE);
    expect(svg).not.toMatch(/<script|<!--|]]>/);
    expect(svg).not.toContain('\u0000');
    expect(svg).toContain('&lt;script&gt;');
    await expect(sharp(Buffer.from(svg)).metadata()).resolves.toMatchObject({ format: 'svg' });
  });

  it('is the same string for the same model', () => {
    expect(draw()).toBe(draw());
  });

  it('has a title and a description that its label points at, and ids of its own', () => {
    const svg = draw();
    const ids = [...svg.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]!);
    expect(new Set(ids).size).toBe(ids.length);
    const outermost = elements(svg, 'aria-labelledby')[0]!;
    expect(ids).toContain(outermost['aria-labelledby']);
    expect(ids).toContain(outermost['aria-describedby']);
    expect(svg).toMatch(/<title id="[^"]+">[^<]+<\/title><desc id="[^"]+">[^<]+<\/desc>/);
  });

  it('carries no style attribute, which the content policy would refuse', () => {
    expect(draw()).not.toMatch(/\sstyle=/);
  });
});

describe('scale', () => {
  it('draws opening, beam and packs of the load picture at one scale along and up', () => {
    const svg = drawn['load picture']();
    const scale = unitsPerInch(svg);
    const beamBox = elements(svg, 'data-piece="beam"')[0]!;
    expect(Math.abs(Number(beamBox.width) - 139 * scale)).toBeLessThan(CLOSE);
    expect(Math.abs(Number(beamBox.height) - 11.875 * scale)).toBeLessThan(CLOSE);
    const [left, right] = elements(svg, 'data-piece="jack"');
    const leftFace = Number(left!.x) + Number(left!.width);
    expect(Math.abs(Number(right!.x) - leftFace - 130 * scale)).toBeLessThan(2 * CLOSE);
    expect(Math.abs(Number(left!.height) - 93 * scale)).toBeLessThan(CLOSE);
    expect(Math.abs(Number(left!.y) - Number(beamBox.y) - Number(beamBox.height))).toBeLessThan(2 * CLOSE);
  });

  it('puts the same wall at the same scale into the layout elevation', () => {
    const svg = drawn['layout elevation']();
    expect(unitsPerInch(svg)).toBeCloseTo(unitsPerInch(drawn['load picture']()), 9);
  });

  it('sets nails where they are, counted from the lower left corner', () => {
    const svg = drawn['nailing pattern']();
    const scale = unitsPerInch(svg);
    const face = elements(svg, 'data-piece="face"')[0]!;
    const [first, second] = elements(svg, 'data-nail="near"');
    const bottom = Number(face.y) + Number(face.height);
    expect(Math.abs(Number(first!.cx) - Number(face.x) - 6 * scale)).toBeLessThan(2 * CLOSE);
    expect(Math.abs(bottom - Number(first!.cy) - 2 * scale)).toBeLessThan(2 * CLOSE);
    expect(Math.abs(Number(second!.cx) - Number(first!.cx) - 12 * scale)).toBeLessThan(2 * CLOSE);
    const far = elements(svg, 'data-nail="far"')[0]!;
    const middle = Number(far.y) + Number(far.height) / 2;
    expect(Math.abs(bottom - middle - 9.875 * scale)).toBeLessThan(2 * CLOSE);
  });

  it('grows with a pattern that leaves its piece', () => {
    const model = nailing();
    const out = { xIn: 24, yIn: -1.5, diameterIn: 0.162, from: 'near side' as const, violations: [1] };
    const svg = drawNailingPattern({
      ...model,
      face: { ...model.face, fasteners: [...model.face.fasteners, out] },
    });
    const face = elements(svg, 'data-piece="face"')[0]!;
    const stray = elements(svg, 'data-nail="near"').find(
      (nail) => Math.abs(Number(nail.cx) - Number(face.x) - 24 * unitsPerInch(svg)) < 2 * CLOSE,
    )!;
    expect(Number(stray.cy)).toBeGreaterThan(Number(face.y) + Number(face.height));
  });
});

describe('words on the drawings', () => {
  it('writes dimensions in feet and inches', () => {
    const svg = drawn['load picture']();
    for (const words of ['1&#39;-8&quot;', '10&#39;-10&quot;', '11&#39;-7&quot;'])
      expect(svg).toContain(`>${words}<`);
  });

  it('labels the extremes: wL/2 at the ends, wL²/8 in the middle', () => {
    const svg = drawn.diagrams();
    expect(svg).toContain('>3,000 lb at 0&quot;<');
    expect(svg).toContain('>-3,000 lb at 10&#39;-0&quot;<');
    expect(svg).toContain('>90,000 lb-in at 5&#39;-0&quot;<');
    expect(svg).toContain('>1 in at 5&#39;-0&quot;<');
  });

  it('draws a sag below the line and a sagging moment above it', () => {
    const svg = drawn.diagrams();
    const below = (panel: string) => {
      const part = svg.slice(svg.indexOf(`dw-panel--${panel}`));
      const axisY = Number(/<line x1="40" y1="([\d.]+)"/.exec(part)![1]);
      const dotY = Number(/cy="([\d.]+)"/.exec(part)![1]);
      return dotY > axisY;
    };
    expect(below('moment')).toBe(false);
    expect(below('deflection')).toBe(true);
  });

  it('tells load kinds apart by hatch, so that grey print can be read', () => {
    const svg = drawn['load picture']();
    const hatches = [...svg.matchAll(/<pattern[^>]*><path d="([^"]+)"/g)].map((match) => match[1]);
    expect(hatches).toHaveLength(3);
    expect(new Set(hatches).size).toBe(3);
  });

  it('gives the running distance of each mark from the datum, in order', () => {
    const svg = drawn['layout elevation']('m');
    const written = [...svg.matchAll(/>(?:cut: )?m {2}([^<]+)</g)].map((match) => match[1]);
    expect(written).toEqual(['1&#39;-2&quot;', '1&#39;-3 1/2&quot;', '1&#39;-8&quot;', '7&#39;-1&quot;']);
  });
});

describe('refusals', () => {
  it.each([NaN, Infinity])('refuses %s as a load, a value, a mark', (value) => {
    const loads = loadPicture();
    expect(() =>
      drawLoadPicture({ ...loads, lineLoads: [{ ...loads.lineLoads[0]!, endPlf: value }] }),
    ).toThrow(Refusal);
    const model = diagrams();
    const bad = [
      { atIn: 0, value },
      { atIn: 1, value: 0 },
    ];
    expect(() =>
      drawDiagrams({ ...model, panels: [{ ...model.panels[0]!, curves: [{ label: '', points: bad }] }] }),
    ).toThrow(Refusal);
    expect(() =>
      drawLayoutElevation({ ...layout(), marks: [{ atIn: value, label: '', kind: 'cut' }] }),
    ).toThrow(Refusal);
  });

  it('refuses what has no size', () => {
    expect(() => drawLoadPicture({ ...loadPicture(), wallLengthIn: 0 })).toThrow(Refusal);
    expect(() => drawLoadPicture({ ...loadPicture(), opening: { fromIn: 90, toIn: 20 } })).toThrow(Refusal);
    expect(() => drawDiagrams({ ...diagrams(), lengthIn: -120 })).toThrow(Refusal);
    const model = nailing();
    expect(() => drawNailingPattern({ ...model, face: { ...model.face, widthIn: 0 } })).toThrow(Refusal);
  });
});
