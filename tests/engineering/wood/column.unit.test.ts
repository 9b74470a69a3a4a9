import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkWoodColumn,
  evaluateWoodColumn,
  fasteningFactor,
  ORDINARY_CONDITIONS,
  stabilityShape,
  type WoodColumnInput,
  woodColumnCapacityLb,
  woodMember,
} from '../../../src/engineering/wood/index.ts';
import { glulam, lvl, sawn, sheet } from './wood-fixtures.ts';

const pack: WoodColumnInput = {
  edition: '2018',
  member: sawn('DF-L', 'No.2', '2x6', 3),
  fastening: 'nailed',
  heightIn: 96,
  combinations: [
    { name: 'D + L', loadDuration: 1, axialLb: 7000 },
    { name: 'D + S', loadDuration: 1.15, axialLb: 7200 },
  ],
};

/** Eq. 3.7-1 as printed. */
function cp(criticalPsi: number, starPsi: number, c = 0.8): number {
  const half = (1 + criticalPsi / starPsi) / (2 * c);
  return half - Math.sqrt(half ** 2 - criticalPsi / starPsi / c);
}

describe('a pack of three 2x6 DF-L No.2, 8 ft', () => {
  const star = 1350 * 1.1;
  const strong = cp((0.822 * 580_000) / (96 / 5.5) ** 2, star);
  const weak = 0.6 * cp((0.822 * 580_000) / (96 / 4.5) ** 2, star);

  it('nailed, buckles across the plies at 0.6 of one piece', () => {
    const [slenderness, axial] = checkWoodColumn(pack);
    expect(slenderness!.demand.value).toBeCloseTo(96 / 4.5, 12);
    expect(slenderness!.capacity.value).toBe(50);
    expect(axial!.governing).toBe('D + L');
    expect(axial!.demand.value).toBeCloseTo(7000 / 24.75, 9);
    expect(axial!.capacity.value).toBeCloseTo(star * weak, 9);
    expect(weak).toBeLessThan(strong);
  });

  it('bolted, at 0.75', () => {
    const [, axial] = checkWoodColumn({ ...pack, fastening: 'bolted' });
    expect(axial!.capacity.value).toBeCloseTo((star * weak * 0.75) / 0.6, 9);
  });

  it('sheathed along the wall, buckles about the strong axis, where Kf is 1', () => {
    const held = checkWoodColumn({ ...pack, weakUnbracedIn: 0 });
    expect(held[0]!.demand.value).toBeCloseTo(96 / 5.5, 12);
    expect(held[1]!.capacity.value).toBeCloseTo(star * strong, 9);
  });

  it('held at mid-height in both directions, by its real lengths', () => {
    const { states } = evaluateWoodColumn({ ...pack, strongUnbracedIn: 48, weakUnbracedIn: 32 });
    const axial = states[1]!;
    if (axial.kind !== 'axial') throw new Error(axial.kind);
    expect(axial.resistance.strong.slenderness).toBeCloseTo(48 / 5.5, 12);
    expect(axial.resistance.weak.slenderness).toBeCloseTo(32 / 4.5, 12);
  });

  it('held at 16 in along the wall, is worth no less than its plies by themselves (15.3.2.2)', () => {
    const { states } = evaluateWoodColumn({ ...pack, weakUnbracedIn: 16, strongUnbracedIn: 24 });
    const axial = states[1]!;
    if (axial.kind !== 'axial') throw new Error(axial.kind);
    const { resistance } = axial;
    const ply = cp((0.822 * 580_000) / (16 / 1.5) ** 2, star);
    expect(resistance.weak.factor).toBeCloseTo(0.6 * cp((0.822 * 580_000) / (16 / 4.5) ** 2, star), 12);
    expect(resistance.singlePly?.factor).toBeCloseTo(ply, 12);
    expect(resistance.governing).toBe(resistance.singlePly);
    expect(axial.capacity).toBeCloseTo(star * ply, 9);
    // Where the strong axis is what is left, that decides.
    const tall = evaluateWoodColumn({ ...pack, weakUnbracedIn: 16 }).states[1]!;
    if (tall.kind !== 'axial') throw new Error(tall.kind);
    expect(tall.resistance.singlePly).toBeDefined();
    expect(tall.resistance.governing).toBe(tall.resistance.strong);
    expect(tall.capacity).toBeCloseTo(star * strong, 9);
  });

  it('falls back on its plies only while they are closely held', () => {
    const weakOf = (weakUnbracedIn: number) => {
      const state = evaluateWoodColumn({ ...pack, weakUnbracedIn }).states[1]!;
      if (state.kind !== 'axial') throw new Error(state.kind);
      return state.resistance;
    };
    // 0.6 of a pack that hardly buckles against a ply that does: the ply wins up to about 31 in.
    expect(weakOf(30).singlePly).toBeDefined();
    expect(weakOf(40).singlePly).toBeUndefined();
    expect(weakOf(96).singlePly).toBeUndefined();
  });

  it('not qualifying, is three studs that fail by slenderness', () => {
    const [slenderness, axial] = checkWoodColumn({ ...pack, fastening: 'not qualifying' });
    expect(slenderness).toMatchObject({ passes: false });
    expect(slenderness!.demand.value).toBeCloseTo(64, 12);
    expect(slenderness!.sentence).toBe(
      'le/d is more than 50 (3.7.1.4) across the plies: brace it, or join the plies so that they count as one.',
    );
    // Snow governs: slender wood gains little by CD. Stress as in the pack: a third of load on a third of it.
    expect(axial!.governing).toBe('D + S');
    expect(axial!.demand.value).toBeCloseTo(7200 / 24.75, 9);
    const snow = 1.15 * star;
    expect(axial!.capacity.value).toBeCloseTo(snow * cp((0.822 * 580_000) / 64 ** 2, snow), 9);
  });

  it('while building, may be slender to 75', () => {
    const [slenderness] = checkWoodColumn({
      ...pack,
      fastening: 'not qualifying',
      whileBuilding: true,
    });
    expect(slenderness).toMatchObject({ passes: true, sentence: 'le/d is within 75 (3.7.1.4).' });
    expect(slenderness!.capacity.value).toBe(75);
    const [usual] = checkWoodColumn({ ...pack, fastening: 'not qualifying', whileBuilding: false });
    expect(usual!.capacity.value).toBe(50);
  });

  it('takes Ke into both lengths', () => {
    const [slenderness] = checkWoodColumn({ ...pack, effectiveLengthFactor: 2 });
    expect(slenderness!.demand.value).toBeCloseTo(192 / 4.5, 12);
    expect(slenderness!.steps[0]!.values.l!.value).toBe(96);
  });

  it('is weaker in the wet', () => {
    const [, axial] = checkWoodColumn({
      ...pack,
      weakUnbracedIn: 0,
      strongUnbracedIn: 0,
      conditions: { ...ORDINARY_CONDITIONS, wet: true },
    });
    expect(axial!.capacity.value).toBeCloseTo(star * 0.8, 9);
  });
});

describe('other columns', () => {
  it('have c 0.9 where glued, and the weak axis Emin where they have one', () => {
    expect(stabilityShape(sawn('DF-L', 'No.1', '6x6'))).toBe(0.8);
    expect(stabilityShape(glulam('24F-V4', 5.125, 6))).toBe(0.9);
    expect(stabilityShape(lvl(5.5, 1))).toBe(0.9);
    const member = glulam('24F-V4', 5.125, 9);
    const { states } = evaluateWoodColumn({ ...pack, member, fastening: 'solid' });
    const axial = states[1]!;
    if (axial.kind !== 'axial') throw new Error(axial.kind);
    expect(axial.resistance.strong.eminPsi).toBe(950_000);
    expect(axial.resistance.weak.eminPsi).toBe(850_000);
    expect(axial.resistance.governing.axis).toBe('weak');
  });

  it('have Kf by fastening, axis and plies', () => {
    expect(fasteningFactor('not qualifying', 'weak', 3)).toBe(1);
    expect(fasteningFactor('nailed', 'weak', 1)).toBe(1);
    expect(fasteningFactor('bolted', 'strong', 3)).toBe(1);
  });

  it('carry more when shorter, thicker, or of better wood', () => {
    const capacity = (size: string, plies: number, heightIn: number, fastening: 'nailed' | 'bolted') =>
      woodColumnCapacityLb(
        { edition: '2018', member: sawn('HF', 'No.2', size, plies), fastening, heightIn },
        1,
      );
    fc.assert(
      fc.property(
        fc.double({ min: 24, max: 200, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.integer({ min: 2, max: 4 }),
        fc.constantFrom('2x4', '2x6'),
        (height, more, plies, size) => {
          const here = capacity(size, plies, height, 'nailed');
          expect(capacity(size, plies, height + more, 'nailed')).toBeLessThan(here);
          expect(capacity(size, plies + 1, height, 'nailed')).toBeGreaterThan(here);
          expect(capacity(size, plies, height, 'bolted')).toBeGreaterThanOrEqual(here);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('what can’t be', () => {
  const combination = pack.combinations[0]!;
  const without = woodMember(
    {
      kind: 'composite',
      class: 'LVL',
      thicknessIn: 1.75,
      depthIn: 5.5,
      plies: 2,
      declared: {
        report: 'R',
        fbPsi: 2600,
        fvPsi: 285,
        fcPerpPsi: 750,
        ePsi: 2e6,
        eminPsi: 1e6,
        specificGravity: 0.5,
        referenceDepthIn: 12,
        depthExponent: 0.1,
        densityPcf: 42,
      },
    },
    '2018',
  );
  it.each<[string, Partial<WoodColumnInput>, string?]>([
    ['heightIn', { heightIn: 0 }],
    ['strongUnbracedIn', { strongUnbracedIn: -1 }],
    ['weakUnbracedIn', { weakUnbracedIn: NaN }],
    ['edgeUnbracedIn', { edgeUnbracedIn: -1 }],
    ['effectiveLengthFactor', { effectiveLengthFactor: 0 }],
    ['eccentricity.strongIn', { eccentricity: { strongIn: -1, weakIn: 0 } }],
    ['eccentricity.weakIn', { eccentricity: { strongIn: 0, weakIn: NaN } }],
    ['fastening', { fastening: 'solid' }, 'Several plies are not a solid post: say how they are joined.'],
    [
      'member.plies',
      { member: sawn('DF-L', 'No.2', '2x6', 6) },
      'A built-up column has two to five plies (NDS 15.3.1); count the rest as separate studs.',
    ],
    [
      'member.plyThicknessIn',
      {
        member: woodMember(
          { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.25, depthIn: 5.5, plies: 2 },
          '2018',
        ),
      },
      'Each ply of a built-up column is 1-1/2 in or more thick (NDS 15.3.1).',
    ],
    [
      'member',
      { member: without },
      '2-1.75x5.5 LVL has no compression value Fc; its report has to give one before it can be a column.',
    ],
    ['combinations', { combinations: [] }, 'A column is checked for one combination at least.'],
    ['combinations.0.loadDuration', { combinations: [{ ...combination, loadDuration: 0 }] }],
    ['combinations.0.axialLb', { combinations: [{ ...combination, axialLb: -1 }] }],
    [
      'combinations.1.strongMomentLbIn',
      { combinations: [combination, { ...combination, strongMomentLbIn: -1 }] },
    ],
    ['combinations.0.weakMomentLbIn', { combinations: [{ ...combination, weakMomentLbIn: NaN }] }],
    ['conditions.temperatureF', { conditions: { ...ORDINARY_CONDITIONS, temperatureF: 200 } }],
  ])('is refused at %s', (path, change, message) => {
    expect(() => checkWoodColumn({ ...pack, ...change })).toThrow(
      expect.objectContaining({ path, ...(message === undefined ? {} : { message }) }),
    );
  });

  it('lets five plies stand as one and six stand alone', () => {
    expect(() => checkWoodColumn({ ...pack, member: sawn('DF-L', 'No.2', '2x6', 5) })).not.toThrow();
    expect(() =>
      checkWoodColumn({ ...pack, member: sawn('DF-L', 'No.2', '2x6', 6), fastening: 'not qualifying' }),
    ).not.toThrow();
  });

  it('refuses for a capacity as for a check', () => {
    expect(() => woodColumnCapacityLb({ ...pack, heightIn: -1 }, 1)).toThrow(
      expect.objectContaining({ path: 'heightIn' }),
    );
    expect(() => woodColumnCapacityLb(pack, 5)).toThrow(
      expect.objectContaining({ path: 'combinations.0.loadDuration' }),
    );
  });
});

describe('the calculation sheet', () => {
  it('reads as written: nailed pack, plies alone, king with wind, eccentric post', () => {
    expect(sheet(checkWoodColumn({ ...pack, id: 'jacks' }))).toMatchSnapshot();
    expect(sheet(checkWoodColumn({ ...pack, fastening: 'not qualifying' }))).toMatchSnapshot();
    expect(sheet(checkWoodColumn({ ...pack, heightIn: 300 }))).toMatchSnapshot();
    expect(
      sheet(
        checkWoodColumn({
          ...pack,
          id: 'kings',
          member: sawn('SPF', 'Stud', '2x6', 2),
          weakUnbracedIn: 16,
          combinations: [
            {
              name: 'D + 0.6W',
              loadDuration: 1.6,
              axialLb: 1200,
              strongMomentLbIn: 9000,
              weakMomentLbIn: 100,
            },
          ],
        }),
      ),
    ).toMatchSnapshot();
    expect(
      sheet(
        checkWoodColumn({
          ...pack,
          id: 'post',
          member: sawn('DF-L', 'No.1', '4x6'),
          fastening: 'solid',
          eccentricity: { strongIn: 0.5, weakIn: 0.25 },
        }),
      ),
    ).toMatchSnapshot();
  });
});
