import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkFlitchBeam,
  flitchSection,
  type FlitchBeamInput,
} from '../../../src/engineering/flitch/index.ts';
import { Refusal, type Editions } from '../../../src/engineering/trace/index.ts';

const editions: Editions = { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' };
const wood = {
  plies: 2,
  thicknessIn: 1.5,
  depthIn: 11.25,
  ePsi: 1_600_000,
  fbPsi: 900,
  fvPsi: 180,
  densityPcf: 34,
};
const plate = { plates: 1, thicknessIn: 0.375, depthIn: 11, fyPsi: 36_000 };

/** 14 ft, 600 plf uniform, 40 percent of it dead. */
function beam(change: Partial<FlitchBeamInput> = {}): FlitchBeamInput {
  const w = 600 / 12;
  const span = 168;
  const total = (5 * w * span ** 4) / 384;
  return {
    wood,
    plate,
    bolts: {
      diameterIn: 0.5,
      spacingIn: 16,
      rows: 2,
      fromPlateEdgeIn: 2.5,
      atEachEnd: 4,
      fromEndIn: 3,
      allowableLb: 900,
    },
    editions,
    momentLbIn: (w * span ** 2) / 8,
    shearLb: (w * span) / 2,
    lineLoadLbPerIn: w,
    landingLb: 0,
    supports: (['left', 'right'] as const).map((end) => ({
      end,
      reactionLb: (w * span) / 2,
      lengthIn: 3,
      woodAllowablePsi: 625,
      plateEnd: 'held short' as const,
    })),
    deflection: {
      spanIn: span,
      liveLbIn3: 0.6 * total,
      totalLbIn3: total,
      sustainedLbIn3: 0.4 * total,
      liveRatio: 360,
      totalRatio: 240,
    },
    creepFactor: 1.5,
    ...change,
  };
}
const find = (input: FlitchBeamInput, id: string) =>
  checkFlitchBeam(input).checks.find((check) => check.id === id)!;

describe('the flitch section', () => {
  it('shares by rigidity: parts add up to the whole', () => {
    const section = flitchSection({ wood, plate });
    const woodRigidity = (1.6e6 * 3 * 11.25 ** 3) / 12;
    const steelRigidity = (29e6 * 0.375 * 11 ** 3) / 12;
    expect(section.rigidityLbIn2).toBeCloseTo(woodRigidity + steelRigidity, 3);
    expect(section.steelShare).toBeCloseTo(steelRigidity / (woodRigidity + steelRigidity), 12);
  });

  it('stresses integrate back to the moment (first principles, 20 000 slices)', () => {
    const section = flitchSection({ wood, plate });
    const moment = section.momentAtSteelLimitLbIn;
    const curvature = moment / section.rigidityLbIn2;
    let sum = 0;
    const slices = 20_000;
    for (let index = 0; index < slices; index += 1) {
      const step = 11.25 / slices;
      const y = -11.25 / 2 + (index + 0.5) * step;
      const force = 1.6e6 * 3 + (Math.abs(y) <= 5.5 ? 29e6 * 0.375 : 0);
      sum += force * curvature * y * y * step;
    }
    expect(sum / moment).toBeCloseTo(1, 4);
    // and the outermost steel is at its allowable
    expect(29e6 * curvature * 5.5).toBeCloseTo(36_000 / 1.67, 6);
  });

  it('creep moves load into the steel', () => {
    const result = checkFlitchBeam(beam());
    expect(result.steelShareLater).toBeGreaterThan(result.steelShareAtOnce);
  });

  it('a hole costs rigidity; one at mid-depth costs next to nothing', () => {
    const whole = flitchSection({ wood, plate }).rigidityLbIn2;
    const middle = flitchSection({ wood, plate, hole: { diameterIn: 0.625, fromMiddleIn: 0 } }).rigidityLbIn2;
    const edge = flitchSection({ wood, plate, hole: { diameterIn: 0.625, fromMiddleIn: 4 } }).rigidityLbIn2;
    expect(middle / whole).toBeGreaterThan(0.999);
    expect(edge / whole).toBeLessThan(0.95);
    expect(() => flitchSection({ wood, plate, hole: { diameterIn: 0.625, fromMiddleIn: 5.4 } })).toThrow(
      Refusal,
    );
  });
});

describe('a flitch beam', () => {
  it('weighs its wood and its steel', () => {
    const expected = (2 * 1.5 * 11.25 * 34 + 0.375 * 11 * 490) / 144;
    expect(checkFlitchBeam(beam()).weightPlf).toBeCloseTo(expected, 9);
  });

  it('bolts: load per bolt w·s·k, end bolts by R·k, spacing that would just do', () => {
    const result = checkFlitchBeam(beam());
    const share = result.steelShareLater;
    const field = result.checks.find((check) => check.id === 'flitch.bolts.field')!;
    expect(field.demand.value).toBeCloseTo(50 * 16 * share, 9);
    expect(result.boltSpacingAllowedIn).toBeCloseTo(900 / (50 * share), 9);
    expect(result.endBoltsNeeded).toBe(Math.ceil((4200 * share) / 900));
    const atLimit = beam({ bolts: { ...beam().bolts, spacingIn: result.boltSpacingAllowedIn } });
    expect(find(atLimit, 'flitch.bolts.field').ratio).toBeCloseTo(1, 9);
  });

  it('a plate held short leaves the plies alone with the shear; on a bearing plate they share', () => {
    expect(find(beam(), 'flitch.shear.wood').demand.value).toBe(4200);
    const together = beam({
      supports: beam().supports.map((support) => ({ ...support, plateEnd: 'on bearing plate' as const })),
    });
    expect(find(together, 'flitch.shear.wood').demand.value).toBeLessThan(2100);
    expect(find(together, 'flitch.bearing.left').demand.value).toBeCloseTo(4200 / (3.375 * 3), 9);
    expect(checkFlitchBeam(together).checks.some((check) => check.id === 'flitch.bolts.ends')).toBe(false);
  });

  it('fails a half-inch bolt one inch from the edge of the plies: 4D', () => {
    const close = find(beam({ bolts: { ...beam().bolts, fromPlateEdgeIn: 1 } }), 'flitch.bolts.wood-edge');
    expect(close.passes).toBe(false);
    expect(close.demand.value).toBe(2);
    expect(close.capacity.value).toBeCloseTo(1.125, 12);
  });

  it('total deflection: dead crept, the rest elastic', () => {
    const total = (5 * 50 * 168 ** 4) / 384;
    const elastic = flitchSection({ wood, plate }).rigidityLbIn2;
    const crept = flitchSection({ wood: { ...wood, ePsi: 1.6e6 / 1.5 }, plate }).rigidityLbIn2;
    expect(find(beam(), 'flitch.deflection.total').demand.value).toBeCloseTo(
      (0.4 * total) / crept + (0.6 * total) / elastic,
      9,
    );
  });

  it('a thicker plate never raises a stress', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1875, max: 0.9, noNaN: true }), (thin) => {
        const at = (thicknessIn: number) => {
          const input = beam({ plate: { ...plate, thicknessIn } });
          return ['flitch.bending.wood', 'flitch.bending.steel'].map((id) => find(input, id).ratio);
        };
        const [thinner, thicker] = [at(thin), at(thin * 1.1)];
        return thicker.every((ratio, index) => ratio <= thinner[index]!);
      }),
    );
  });

  it.each([
    ['plate.depthIn', { plate: { ...plate, depthIn: 12 } }],
    ['creepFactor', { creepFactor: 0.5 }],
    ['bolts.allowableLb', { bolts: { ...beam().bolts, allowableLb: 0 } }],
    ['momentLbIn', { momentLbIn: Number.NaN }],
    ['deflection.sustainedLbIn3', { deflection: { ...beam().deflection, sustainedLbIn3: 1e12 } }],
  ])('refuses nonsense at %s', (path, change) => {
    expect(() => checkFlitchBeam(beam(change))).toThrow(expect.objectContaining({ path }) as Error);
  });
});
