import { describe, expect, it } from 'vitest';
import {
  checkWoodBeam,
  evaluateWoodBeam,
  judgeWoodBeam,
  ORDINARY_CONDITIONS,
  type WoodBeamInput,
  type WoodMember,
} from '../../../src/engineering/wood/index.ts';
import { glulam, header, lvl, sawn } from './wood-fixtures.ts';

const byId = (input: WoodBeamInput) =>
  Object.fromEntries(checkWoodBeam(input).map((check) => [check.id, check]));

describe('a beam of 3-2x10 DF-L No.2 over 8 ft, 200 plf dead, 400 plf live', () => {
  const checks = byId({ ...header(sawn('DF-L', 'No.2', '2x10', 3)), bracing: { topIn: 0 } });

  it('bends: w L²/8 ÷ S against Fb · CD · CF', () => {
    const sectionModulus = (4.5 * 9.25 ** 2) / 6;
    // 600 plf: 50 lb/in · 96² ÷ 8 = 57 600 lb-in; the snow combination is 59 520 but has CD 1.15.
    expect(checks['beam.bending']).toMatchObject({ governing: 'D + L', passes: true });
    expect(checks['beam.bending']!.demand.value).toBeCloseTo(57_600 / sectionModulus, 9);
    expect(checks['beam.bending']!.capacity.value).toBeCloseTo(900 * 1.1, 9);
  });

  it('shears with the load within d left out', () => {
    expect(checks['beam.shear']!.demand.value).toBeCloseTo((1.5 * 50 * (48 - 9.25)) / (4.5 * 9.25), 9);
    expect(checks['beam.shear']!.capacity.value).toBe(180);
    expect(checks['beam.shear']!.governing).toBe('D + L');
  });

  it('bears on both ends, under the heaviest combination, without load duration', () => {
    for (const id of ['beam.bearing.left', 'beam.bearing.right']) {
      expect(checks[id]).toMatchObject({ governing: 'D + 0.75L + 0.75S' });
      expect(checks[id]!.demand.value).toBeCloseTo(((620 / 12) * 48) / (3 * 4.5), 9);
      expect(checks[id]!.capacity.value).toBe(625);
    }
  });

  it('sags: live at L/360, with creep 1.5 at L/240', () => {
    const stiffness = (1.6e6 * 4.5 * 9.25 ** 3) / 12;
    const sag = (plf: number) => (5 * (plf / 12) * 96 ** 4) / 384 / stiffness;
    expect(checks['beam.deflectionLive']!.demand.value).toBeCloseTo(sag(400), 12);
    expect(checks['beam.deflectionLive']!.capacity.value).toBeCloseTo(96 / 360, 12);
    expect(checks['beam.deflectionTotal']!.demand.value).toBeCloseTo(sag(400) + 1.5 * sag(200), 12);
    expect(checks['beam.deflectionTotal']!.capacity.value).toBeCloseTo(96 / 240, 12);
    expect(checks['beam.deflectionAbsolute']).toBeUndefined();
  });

  it('has no slenderness where the edge is held', () => {
    expect(Object.keys(checks)).toEqual([
      'beam.bending',
      'beam.shear',
      'beam.bearing.left',
      'beam.bearing.right',
      'beam.deflectionLive',
      'beam.deflectionTotal',
    ]);
  });
});

describe('a beam held at points', () => {
  it('loses to CL by its real unbraced length and shows RB', () => {
    const checks = byId({ ...header(sawn('DF-L', 'No.2', '2x12')), bracing: { topIn: 96 } });
    const effective = 1.63 * 96 + 3 * 11.25;
    const slenderness = Math.sqrt((effective * 11.25) / 1.5 ** 2);
    expect(checks['beam.slenderness']!.demand.value).toBeCloseTo(slenderness, 12);
    expect(checks['beam.slenderness']!.capacity.value).toBe(50);
    const ratio = (1.2 * 580_000) / slenderness ** 2 / 900;
    const half = (1 + ratio) / 1.9;
    const factor = half - Math.sqrt(half ** 2 - ratio / 0.95);
    expect(checks['beam.bending']!.capacity.value).toBeCloseTo(900 * factor, 9);
  });

  it('fails over RB 50 with words to act on', () => {
    const input = { ...header(sawn('DF-L', 'No.2', '2x14'), 240), bracing: { topIn: 240 } };
    const slender = byId(input)['beam.slenderness']!;
    expect(slender.passes).toBe(false);
    expect(slender.sentence).toBe(
      'RB is more than 50 (3.3.3.7): hold the compressed edge at closer points or take a wider beam.',
    );
  });
});

describe('a beam whose top is stretched', () => {
  const overhang = (member: WoodMember): WoodBeamInput => ({
    ...header(member),
    bracing: { topIn: 0, bottomIn: 48 },
    combinations: header(member).combinations.map((combination, at) => ({
      ...combination,
      momentNegativeLbIn: at === 1 ? 50_000 : 0,
    })),
  });

  it('is checked on that face with the face’s own value', () => {
    const checks = byId(overhang(glulam('24F-V4', 3.125, 12)));
    const negative = checks['beam.bendingNegative']!;
    expect(negative.demand.value).toBeCloseTo(50_000 / 75, 9);
    const first = negative.steps.find((step) => step.id === 'beam.bendingNegative.star')!;
    expect(first.values.Fb_top!.value).toBe(1850);
    expect(checks['beam.slendernessNegative']!.demand.value).toBeCloseTo(
      Math.sqrt((2.06 * 48 * 12) / 3.125 ** 2),
      9,
    );
    expect(checks['beam.slendernessNegative']!.title).toBe('Slenderness in bending, bottom compressed');
    expect(negative.title).toBe('Bending, top stretched');
  });

  it('takes sawn lumber alike on both faces', () => {
    const checks = byId(overhang(sawn('DF-L', 'No.2', '2x10', 3)));
    // 48 in between points that hold the bottom, 4.5 in wide: almost no loss.
    expect(checks['beam.bendingNegative']!.capacity.value).toBeGreaterThan(980);
    expect(checks['beam.bendingNegative']!.capacity.value).toBeLessThan(990);
  });

  it('must say how the bottom edge is held', () => {
    expect(() =>
      checkWoodBeam({ ...overhang(sawn('DF-L', 'No.2', '2x10', 3)), bracing: { topIn: 0 } }),
    ).toThrow(
      expect.objectContaining({
        path: 'bracing.bottomIn',
        message: 'The top is stretched somewhere: say how far apart the bottom edge is held.',
      }),
    );
  });
});

describe('CL and CV', () => {
  it('the lesser of both for glulam', () => {
    const held = evaluateWoodBeam({ ...header(glulam('24F-V4', 6.75, 27), 360), bracing: { topIn: 0 } });
    const bent = held.states.find((state) => state.kind === 'bending')!;
    const volume = ((21 / 30) * (12 / 27) * (5.125 / 6.75)) ** 0.1;
    expect(bent.capacity).toBeCloseTo(2400 * volume, 9);
    const free = evaluateWoodBeam({ ...header(glulam('24F-V4', 3.125, 27), 360), bracing: { topIn: 240 } });
    const slender = free.states.find((state) => state.kind === 'bending')!;
    expect(slender.resistance.stabilityOrVolume).toBe(slender.resistance.stability.factor);
    // Emin about the weak axis is what stability rests on.
    expect(slender.resistance.eminPsi).toBe(850_000);
  });

  it('between points of zero moment, where they are closer than the span', () => {
    const input = { ...header(glulam('24F-V4', 6.75, 27), 360), bracing: { topIn: 0 } };
    const near = judgeWoodBeam({ ...input, volumeLengthIn: 252 }).states[0]!;
    expect(near.capacity).toBeCloseTo(2400 * ((12 / 27) * (5.125 / 6.75)) ** 0.1, 9);
  });

  it('both where the depth factor of a shallow composite is above 1 (NDS 8.3.6)', () => {
    const input = { ...header(lvl(7.25, 2)), bracing: { topIn: 96 } };
    const { resistance, capacity } = evaluateWoodBeam(input).states.find((s) => s.kind === 'bending')!;
    const volume = (12 / 7.25) ** 0.136;
    expect(resistance.starPsi).toBeCloseTo(2600 * volume, 9);
    expect(capacity).toBeCloseTo(2600 * volume * resistance.stability.factor, 9);
    expect(resistance.stability.factor).toBeLessThan(1);
  });

  it('the lesser for a deep composite', () => {
    const input = { ...header(lvl(24, 2)), bracing: { topIn: 0 } };
    const { resistance, capacity } = evaluateWoodBeam(input).states.find((s) => s.kind === 'bending')!;
    expect(resistance.starPsi).toBe(2600);
    expect(capacity).toBeCloseTo(2600 * 0.5 ** 0.136, 9);
  });
});

describe('surroundings', () => {
  it('reduce every value by its own factor', () => {
    const conditions = {
      ...ORDINARY_CONDITIONS,
      wet: true,
      temperatureF: 110,
      incised: true,
      repetitive: true,
    };
    const checks = byId({ ...header(sawn('DF-L', 'SS', '2x10', 3)), bracing: { topIn: 0 }, conditions });
    const loadDuration = checks['beam.bending']!.governing === 'D + L' ? 1 : NaN;
    expect(checks['beam.bending']!.capacity.value).toBeCloseTo(
      1500 * loadDuration * 1.1 * 0.85 * 0.7 * 0.8 * 1.15,
      9,
    );
    expect(checks['beam.shear']!.capacity.value).toBeCloseTo(180 * 0.97 * 0.7 * 0.8, 9);
    expect(checks['beam.bearing.left']!.capacity.value).toBeCloseTo(625 * 0.67 * 0.7, 9);
    const live = checks['beam.deflectionLive']!;
    expect(live.steps[0]!.result.value).toBeCloseTo(1.9e6 * 0.9 * 0.9 * 0.95, 6);
    // Creep in the wet is 2.
    const total = checks['beam.deflectionTotal']!;
    expect(total.demand.value).toBeCloseTo(live.demand.value * (1 + 2 * 0.5), 12);
  });

  it('let green timber creep more than seasoned', () => {
    const green = { ...ORDINARY_CONDITIONS, seasoned: false };
    const share = (member: WoodMember, conditions = green) => {
      const checks = byId({ ...header(member), conditions });
      return checks['beam.deflectionTotal']!.demand.value / checks['beam.deflectionLive']!.demand.value;
    };
    expect(share(sawn('DF-L', 'No.1', '6x12'))).toBeCloseTo(2, 12);
    expect(share(sawn('DF-L', 'No.1', '6x12'), ORDINARY_CONDITIONS)).toBeCloseTo(1.75, 12);
    // Glued products are made dry.
    expect(share(lvl(11.875, 2))).toBeCloseTo(1.75, 12);
    expect(share(glulam('24F-V4', 5.125, 12))).toBeCloseTo(1.75, 12);
    expect(share(glulam('24F-V4', 5.125, 12), { ...green, wet: true })).toBeCloseTo(2, 12);
  });
});

describe('deflection', () => {
  it('is held against an absolute limit where there is one, uplift counted as sag', () => {
    const base = header(sawn('DF-L', 'No.2', '2x10', 3));
    const stiffness = (1.6e6 * 4.5 * 9.25 ** 3) / 12;
    const checks = byId({
      ...base,
      limits: { ...base.limits, absoluteIn: 0.25 },
      deflections: [
        { id: 'a', name: 'L', spanIn: 96, shortTermEiLbIn3: 1e8, longTermEiLbIn3: 0 },
        { id: 'b', name: 'W', spanIn: 96, shortTermEiLbIn3: -3e8, longTermEiLbIn3: 1e8 },
      ],
    });
    expect(checks['beam.deflectionLive']).toMatchObject({ governing: 'W' });
    expect(checks['beam.deflectionLive']!.demand.value).toBeCloseTo(3e8 / stiffness, 12);
    expect(checks['beam.deflectionTotal']!.demand.value).toBeCloseTo(1.5e8 / stiffness, 12);
    expect(checks['beam.deflectionAbsolute']!.demand.value).toBeCloseTo(1.5e8 / stiffness, 12);
    expect(checks['beam.deflectionAbsolute']!.capacity.value).toBe(0.25);
  });

  it('is left out where statics gives none', () => {
    const ids = Object.keys(byId({ ...header(sawn('DF-L', 'No.2', '2x10', 3)), deflections: [] }));
    expect(ids.some((id) => id.includes('deflection'))).toBe(false);
  });
});
