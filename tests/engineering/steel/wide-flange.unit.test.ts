import { describe, expect, it } from 'vitest';
import { derive, wideFlange, wideFlanges, type WideFlange } from '../../../src/engineering/steel/index.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';

/**
 * The table was written from memory. It is held here by geometry, independently of it: two flanges, a web and four
 * quarter-round fillets of radius k − tf; the torsion constant by the junction formula that the manual's J follows
 * (El Darwish and Johnston, 1965, from memory). A slip of one digit in any column shows.
 */
function fromPlates(shape: WideFlange) {
  const { depthIn: d, webIn: tw, flangeWidthIn: bf, flangeIn: tf } = shape;
  const radius = shape.filletToeIn - tf;
  const web = d - 2 * tf;
  const fillet = (1 - Math.PI / 4) * radius ** 2;
  const fromCorner = (radius * (10 - 3 * Math.PI)) / (12 - 3 * Math.PI);
  const y = web / 2 - fromCorner;
  const x = tw / 2 + fromCorner;
  const D = ((tf + radius) ** 2 + tw * (radius + tw / 4)) / (2 * radius + tf);
  const alpha =
    -0.042 +
    (0.2204 * tw) / tf +
    (0.1355 * radius) / tf -
    (0.0865 * tw * radius) / tf ** 2 -
    0.0725 * (tw / tf) ** 2;
  return {
    area: 2 * bf * tf + web * tw + 4 * fillet,
    inertia: (bf * d ** 3 - (bf - tw) * web ** 3) / 12 + 4 * fillet * y ** 2,
    plastic: bf * tf * (d - tf) + (tw * web ** 2) / 4 + 4 * fillet * y,
    weak: (tf * bf ** 3) / 6 + (web * tw ** 3) / 12 + 4 * fillet * x ** 2,
    torsion: (2 / 3) * bf * tf ** 3 + (web * tw ** 3) / 3 + 2 * alpha * D ** 4 - 0.42016 * tf ** 4,
  };
}

const within = (value: number, reference: number, part: number) => {
  expect(Math.abs(value / reference - 1), `${value} against ${reference}`).toBeLessThanOrEqual(part);
};

describe('the wide-flange table', () => {
  it('holds forty-one shapes from W6 to W14, each once', () => {
    expect(wideFlanges).toHaveLength(41);
    expect(new Set(wideFlanges.map((shape) => shape.shape)).size).toBe(41);
  });

  it.each(wideFlanges.map((shape) => [shape.shape, shape] as const))(
    '%s agrees with its own plates',
    (_, shape) => {
      const plates = fromPlates(shape);
      // Dimensions are tabulated to three figures; a depth rounded by 0.05 in moves the inertia by up to 1 percent.
      within(shape.areaIn2, plates.area, 0.004);
      within(shape.inertiaIn4, plates.inertia, 0.01);
      within(shape.plasticIn3, plates.plastic, 0.007);
      within(shape.weakInertiaIn4, plates.weak, 0.005);
      within(shape.torsionIn4, plates.torsion, 0.005);
      within(shape.sectionIn3, shape.inertiaIn4 / (shape.depthIn / 2), 0.005);
      // 490 pcf: one square inch weighs 3.403 plf.
      within(shape.weightPlf, shape.areaIn2 * (490 / 144), 0.015);
      expect(Number(shape.shape.slice(1).split('x')[1])).toBe(shape.weightPlf);
    },
  );

  it('would notice one wrong digit', () => {
    const slipped = { ...wideFlange('W8x18'), flangeIn: 0.303 };
    expect(Math.abs(slipped.areaIn2 / fromPlates(slipped).area - 1)).toBeGreaterThan(0.004);
  });

  it('refuses a shape it does not hold, at the field', () => {
    expect(() => wideFlange('W9x11')).toThrow(Refusal);
    expect(() => wideFlange('W9x11', 'beam.member.shape')).toThrow(
      expect.objectContaining({ path: 'beam.member.shape' }) as Error,
    );
  });

  it('derives what the manual tabulates beside it (from memory: W12x14 h/tw 54.3, bf/2tf 8.82)', () => {
    const derived = derive(wideFlange('W12x14'));
    within(derived.webSlenderness, 54.3, 0.002);
    within(derived.flangeSlenderness, 8.82, 0.002);
  });
});
