import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  drawPattern,
  findSubstitutes,
  judgeRow,
  pennyNail,
  placeFasteners,
  PROVISIONS,
  type Fastener,
  type FasteningRow,
} from '../../../src/engineering/fasteners/index.ts';
import * as engine from '../../../src/engineering/fasteners/index.ts';
import { checkShield } from '../../../src/engineering/fasteners/nail-plate.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { EDITIONS, ply, row } from './rows.ts';

const judge = (over: Partial<FasteningRow> = {}) => judgeRow(row(over), EDITIONS);
const joint = (lateralLb: number, withdrawalLb = 0, durationFactor = 1): FasteningRow['demand'] => ({
  per: 'joint',
  lateralLb,
  withdrawalLb,
  durationFactor,
  combination: 'D + L',
  source: 'test',
});

describe('judging a row', () => {
  it('three 16d common through a 2x: 3 × 141 lb', () => {
    const judged = judge();
    expect(Math.round(judged.capacity.value / 3)).toBe(141);
    expect(judged.ratio).toBeCloseTo(300 / judged.capacity.value, 9);
    expect(judged.passes).toBe(true);
  });
  it('duration is capped at 1.6 for connections (NDS 11.3.2)', () => {
    expect(judge({ demand: joint(300, 0, 2) }).capacity.value).toBeCloseTo(1.6 * judge().capacity.value, 9);
  });
  it('end grain takes 0.67, toe-nails 0.83 with their own geometry', () => {
    const end = judge({ method: 'end', members: [ply('plate'), ply('stud', { thicknessIn: 24 })] });
    expect(
      end.capacity.value /
        judge({ members: [ply('plate'), ply('stud', { thicknessIn: 24 })] }).capacity.value,
    ).toBeCloseTo(0.67, 9);
    const toe = judge({ method: 'toe' });
    const step = toe.checks
      .find((check) => check.id === 'row.lateral')!
      .steps.find((candidate) => candidate.id === 'row.Zprime')!;
    expect(step.values.Ctn!.value).toBe(0.83);
  });
  it('withdrawal from end grain has no capacity and says why', () => {
    const judged = judge({
      method: 'end',
      members: [ply('plate'), ply('stud', { thicknessIn: 24 })],
      demand: joint(0, 200),
    });
    expect(judged.passes).toBe(false);
    expect(judged.ratio).toBe(Infinity);
    expect(judged.governing!.sentence).toMatch(/end grain/);
  });
  it('rows that miss the piece fail, however strong they would be in it', () => {
    const threeRows = { rows: 3, spacingIn: 3, staggered: false, kind: 'count', count: 6 } as const;
    const at = (edgeDistanceIn: number, rowSpacingIn: number, over: Partial<FasteningRow> = {}) =>
      judge({ pattern: { ...threeRows, rowSpacingIn }, edgeDistanceIn, ...over });
    // 1 + 2 · 2.25 = 5.5 in: the shank of the last row sticks half out of a 2x6.
    expect(at(1, 2.25).governing?.id).toBe('row.far-edge.off');
    expect(at(1, 2.2).passes).toBe(true);
    expect(at(1, 3).governing?.sentence).toContain('1.50 in beyond the far edge of a face of 5.50 in');
    expect(at(0, 1).governing?.id).toBe('row.edge.off');
    expect(at(1, 3, { method: 'toe' }).checks.some((check) => check.id.endsWith('.off'))).toBe(false);
    const drawn = drawPattern(
      row({ pattern: { ...threeRows, rowSpacingIn: 3 }, edgeDistanceIn: 1 }),
      EDITIONS,
    );
    expect(drawn.violations.filter((one) => one.view === 'face')).toMatchObject([{ kind: 'rule' }]);
  });
  it('lateral and withdrawal together are judged by the resultant', () => {
    const judged = judge({ demand: joint(150, 60) });
    const combined = judged.checks.find((check) => check.id === 'row.combined')!;
    expect(combined.demand.value).toBeCloseTo(Math.hypot(150, 60), 9);
    expect(judged.demand).toEqual(combined.demand);
  });
  it('a nail that is too short fails by its penetration, in words', () => {
    const judged = judge({ fastener: { kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 2 } });
    expect(judged.passes).toBe(false);
    expect(judged.checks.find((check) => check.id === 'row.penetration')!.sentence).toMatch(/does not count/);
  });
  it('bolts closer to the end than the least do not count; between least and full they count in part', () => {
    const bolted = (endDistanceIn: number) =>
      judge({
        fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 6 },
        pattern: { kind: 'count', count: 1, rows: 1, spacingIn: 3, rowSpacingIn: 0, staggered: false },
        endDistanceIn,
        prebored: true,
      });
    expect(bolted(1.7).passes).toBe(false);
    expect(bolted(2.625).capacity.value / bolted(3.5).capacity.value).toBeCloseTo(0.75, 9);
  });
  it('a bolt that leaves no room for its nut fails by its length', () => {
    const judged = judge({
      fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 5.25 },
      pattern: { kind: 'count', count: 1, rows: 1, spacingIn: 3, rowSpacingIn: 0, staggered: false },
      endDistanceIn: 4,
      prebored: true,
    });
    expect(judged.checks.filter((check) => !check.passes).map((check) => check.id)).toEqual(['row.length']);
  });
  it('large fasteners in a row need the modulus of their members', () => {
    const act = () =>
      judge({
        fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 6 },
        members: [
          {
            name: 'side',
            species: 'DF-L',
            material: 'wood',
            specificGravity: 0.5,
            thicknessIn: 1.5,
            widthIn: 5.5,
            angleDeg: 0,
          },
          ply('main'),
        ],
        endDistanceIn: 4,
      });
    expect(act).toThrow(Refusal);
  });
  it('nails too close together are advice, not failure', () => {
    const judged = judge({
      pattern: { kind: 'count', count: 3, rows: 1, spacingIn: 1, rowSpacingIn: 0, staggered: false },
    });
    expect(judged.passes).toBe(true);
    expect(judged.advice.some((check) => !check.passes && check.id === 'row.spacing')).toBe(true);
  });
  it('half of the spacing doubles what a foot carries', () => {
    const at = (spacingIn: number): number =>
      judge({
        pattern: { kind: 'spaced', lengthIn: 120, rows: 2, spacingIn, rowSpacingIn: 2, staggered: true },
        demand: {
          per: 'foot',
          lateralPlf: 100,
          withdrawalPlf: 0,
          durationFactor: 1,
          combination: 'D + L',
          source: 'test',
        },
      }).capacity.value;
    expect(at(6)).toBeCloseTo(2 * at(12), 9);
  });
  it('the code’s row stands beside: fewer nails fall short of it', () => {
    const members = [ply('plate'), ply('stud', { thicknessIn: 24 })];
    const outcome = (count: number) =>
      judge({
        method: 'end',
        members,
        prescriptiveItem: 'plate to stud, end',
        pattern: { kind: 'count', count, rows: 1, spacingIn: 2, rowSpacingIn: 0, staggered: false },
      }).prescriptive!.outcome;
    expect(outcome(2)).toBe('meets it');
    expect(outcome(1)).toBe('falls short');
  });
});

describe('anchors', () => {
  const declared = {
    report: 'report on file',
    shearLb: 800,
    tensionLb: 600,
    leastEdgeIn: 4,
    leastSpacingIn: 6,
    leastEmbedmentIn: 3.5,
    leastConcreteThicknessIn: 6,
  };
  const anchored = (over: Partial<FasteningRow> = {}, concreteEdgeIn = 6) =>
    judge({
      members: [
        ply('sole plate', { angleDeg: 90 }),
        { name: 'slab', species: '', material: 'concrete', thicknessIn: 8, widthIn: 12, angleDeg: 0 },
      ],
      fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 5 },
      pattern: { kind: 'count', count: 2, rows: 1, spacingIn: 6, rowSpacingIn: 0, staggered: false },
      endDistanceIn: 4,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      prebored: true,
      demand: joint(300, 500, 1.6),
      basis: { kind: 'anchor', concreteEdgeIn, declared },
      ...over,
    });
  it('pass within the declared values and say which rule fails beyond them', () => {
    expect(anchored().passes).toBe(true);
    const failing = (judged: ReturnType<typeof anchored>) =>
      judged.checks.filter((check) => !check.passes).map((check) => check.id);
    expect(failing(anchored({}, 3))).toEqual(['row.concrete-edge']);
    expect(failing(anchored({ fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 4.5 } }))).toEqual([
      'row.concrete-embedment',
    ]);
    expect(failing(anchored({ demand: joint(1000, 1000, 1.6) }))).toContain('row.concrete-both');
    expect(() => anchored({ fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 1.5 } })).toThrow(Refusal);
  });
});

describe('edges of a 2x4 sole plate, 1/2 in bolts in its middle: 1 3/4 in to either edge', () => {
  const plate = (lateralLb: number) =>
    judge({
      members: [
        ply('sole plate', { angleDeg: 90, widthIn: 3.5 }),
        { name: 'slab', species: '', material: 'concrete', thicknessIn: 8, widthIn: 12, angleDeg: 0 },
      ],
      fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 5 },
      pattern: { kind: 'count', count: 2, rows: 1, spacingIn: 6, rowSpacingIn: 0, staggered: false },
      edgeDistanceIn: 1.75,
      endDistanceIn: 4,
      endLoading: 'across grain',
      loadRuns: 'across rows',
      prebored: true,
      demand: joint(lateralLb, 0, 1.6),
      basis: { kind: 'anchor', concreteEdgeIn: 6 },
    }).checks.find((check) => check.id === 'row.edge')!;
  it('a load across the plate asks for 4 D at the edge it presses to; no load asks for 1.5 D (NDS Table 12.5.1C)', () => {
    expect(plate(100).demand.value).toBe(2);
    expect(plate(100).passes).toBe(false);
    expect(plate(0).demand.value).toBe(0.75);
    expect(plate(0).passes).toBe(true);
  });
});

describe('substitution', () => {
  const onHand: readonly Fastener[] = [
    { kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 3.25 },
    pennyNail('common', '16d'),
    { kind: 'nail', style: 'pneumatic', diameterIn: 0.113, lengthIn: 2 },
  ];
  it('tells what passes as it is, what passes with more, and what does not', () => {
    const found = findSubstitutes(row({ demand: joint(400) }), onHand, EDITIONS);
    expect(found.map((one) => one.outcome)).toEqual(['as it is', 'more of them', 'none']);
    for (const one of found.slice(0, 2)) expect(judgeRow(one.row, EDITIONS).passes).toBe(true);
    expect(found[1]!.sentence).toMatch(/passes with 5 instead of 3/);
    expect(found[2]!.sentence).toMatch(/does not/);
  });
});

describe('the drawing', () => {
  it('places each fastener inside the piece and numbers every violation', () => {
    const drawing = drawPattern(row({ edgeDistanceIn: 0.2 }), EDITIONS);
    expect(drawing.face.fasteners).toHaveLength(3);
    expect(drawing.violations.map((violation) => violation.number)).toEqual(
      drawing.violations.map((_, index) => index + 1),
    );
    expect(
      drawing.violations.some((violation) => violation.view === 'face' && violation.kind === 'advice'),
    ).toBe(true);
    expect(drawing.face.fasteners.every((fastener) => fastener.violations.length > 0)).toBe(true);
  });
  it('shows the point and how deep it goes', () => {
    const shank = drawPattern(row(), EDITIONS).section.shanks[0]!;
    expect(shank.tipXIn - shank.headXIn).toBeCloseTo(3.5, 9);
    expect(shank.penetrationIn).toBeCloseTo(2, 9);
    expect(shank.neededIn).toBeCloseTo(6 * 0.162, 9);
  });
  it('a pattern that is clean has no flags', () => {
    expect(drawPattern(row(), EDITIONS).violations).toEqual([]);
  });
  it('a spaced pattern keeps its end distance at both ends', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 24, max: 240 }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 2, max: 24 }),
        fc.boolean(),
        (lengthIn, rows, spacingIn, staggered) => {
          const spaced = row({
            pattern: { kind: 'spaced', lengthIn, rows, spacingIn, rowSpacingIn: 1, staggered },
            demand: {
              per: 'foot',
              lateralPlf: 10,
              withdrawalPlf: 0,
              durationFactor: 1,
              combination: '',
              source: 'test',
            },
            edgeDistanceIn: 1,
          });
          for (const placed of placeFasteners(spaced)) {
            expect(placed.xIn).toBeGreaterThanOrEqual(3 - 1e-9);
            expect(placed.xIn).toBeLessThanOrEqual(lengthIn - 3 + 1e-9);
          }
        },
      ),
    );
  });
});

describe('provisions', () => {
  it('each refusal that can be tried says what the table says', () => {
    const tries: readonly (() => unknown)[] = [
      () => judge({ conditions: { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 160 } }),
      () =>
        judge({
          fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 6 },
          demand: joint(0, 100),
          pattern: { kind: 'count', count: 1, rows: 1, spacingIn: 3, rowSpacingIn: 0, staggered: false },
        }),
      () =>
        judge({
          members: [ply('a'), ply('b'), ply('c')],
          fastener: { kind: 'wood screw', gauge: 10, lengthIn: 6 },
          basis: { kind: 'yield limit', shear: 'double' },
        }),
      () => judge({ members: [ply('a', { specificGravity: 0.29 }), ply('b')] }),
      () => engine.raisedTieFactor(0.4),
    ];
    const sentences = tries.map((act) => {
      try {
        act();
      } catch (error) {
        return (error as Error).message;
      }
      return 'not refused';
    });
    const refused = PROVISIONS.filter((provision) => provision.status === 'refused').map(
      (provision) => provision.answer,
    );
    for (const sentence of sentences) expect(refused).toContain(sentence);
  });
  it('what is left to the user fails with the sentence of the table until it is entered', () => {
    const listing = judge({ basis: { kind: 'listing' }, demand: joint(100) });
    const anchor = judge({
      basis: { kind: 'anchor', concreteEdgeIn: 6 },
      fastener: { kind: 'bolt', diameterIn: 0.5, lengthIn: 5 },
      pattern: { kind: 'count', count: 1, rows: 1, spacingIn: 6, rowSpacingIn: 0, staggered: false },
      endDistanceIn: 4,
      prebored: true,
    });
    const declared = PROVISIONS.filter((provision) => provision.status === 'declared by the user').map(
      (provision) => provision.answer,
    );
    for (const judged of [listing, anchor]) {
      expect(judged.passes).toBe(false);
      expect(declared.some((answer) => judged.notices.some((notice) => notice.text === answer))).toBe(true);
    }
  });
  it('each section is listed once for each subject', () => {
    const keys = PROVISIONS.map((provision) => `${provision.section} ${provision.subject}`);
    expect(new Set(keys).size).toBe(keys.length);
  });
});

it('a hole within 1-1/4 in of the face wants a steel plate', () => {
  const through = (edgeIn: number, plateIn: number) =>
    checkShield('hole', { service: 'cable', edgeIn, plateIn }, EDITIONS).passes;
  expect(through(1.25, 0)).toBe(true);
  expect(through(1.2, 0)).toBe(false);
  expect(through(1.2, 0.0625)).toBe(true);
});

describe('a row of nonsense', () => {
  it.each([
    [
      'pattern.spacingIn',
      { pattern: { kind: 'count', count: 3, rows: 1, spacingIn: 0, rowSpacingIn: 0, staggered: false } },
    ],
    ['edgeDistanceIn', { edgeDistanceIn: Number.NaN }],
    ['endDistanceIn', { endDistanceIn: -1 }],
    ['betweenIn', { betweenIn: Number.POSITIVE_INFINITY }],
    ['members', { members: [ply('alone')] }],
    [
      'demand',
      {
        pattern: { kind: 'spaced', lengthIn: 100, rows: 1, spacingIn: 6, rowSpacingIn: 0, staggered: false },
      },
    ],
  ] as const)('refuses nonsense at %s', (path, over) => {
    let refusal: unknown;
    try {
      judge(over as Partial<FasteningRow>);
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(Refusal);
    expect((refusal as Refusal).path).toBe(path);
  });
});
