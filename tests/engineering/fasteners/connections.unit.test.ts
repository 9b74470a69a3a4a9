import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  braceThrustLb,
  fasteningRowSchema,
  interfaceLoads,
  judgeRow,
  proposeRows,
  rafterThrust,
  raisedTieFactor,
  type FasteningContext,
  type FasteningRow,
  type PackFastening,
  type WoodPiece,
} from '../../../src/engineering/fasteners/index.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { EDITIONS } from './rows.ts';

const STUD: WoodPiece = {
  name: 'stud 2x6',
  species: 'DF-L No. 2',
  specificGravity: 0.5,
  thicknessIn: 1.5,
  widthIn: 5.5,
  ePsi: 1_600_000,
};
const LVL: WoodPiece = {
  name: 'LVL 2.0E',
  species: 'LVL 2.0E',
  specificGravity: 0.5,
  thicknessIn: 1.75,
  widthIn: 11.875,
  ePsi: 2_000_000,
};

function pack(over: Partial<PackFastening> = {}): PackFastening {
  return {
    end: 'left',
    stud: STUD,
    plate: { ...STUD, name: 'plate 2x6' },
    jacks: 3,
    kings: 1,
    countedAsOneColumn: true,
    kingsThatCarry: 0,
    heightIn: 85,
    reactionLb: 7243,
    reactionDurationFactor: 1.15,
    reactionCombination: 'D + 0.75 L + 0.75 S',
    upliftLb: 0,
    kingLateralLb: 0,
    ...over,
  };
}

function context(over: Partial<FasteningContext> = {}): FasteningContext {
  return {
    editions: EDITIONS,
    conditions: { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 70 },
    beam: {
      ply: LVL,
      plies: 3,
      lengthIn: 139,
      front: { totalPlf: 312, deadPlf: 72 },
      rear: { totalPlf: 364, deadPlf: 84 },
      topPlf: 400,
      durationFactor: 1,
      combination: 'D + L',
    },
    packs: [pack(), pack({ end: 'right' })],
    hangers: [
      {
        side: 'front',
        joist: { ...STUD, name: 'joist 2x10', widthIn: 9.25 },
        downLb: 416,
        upLb: 0,
        durationFactor: 1,
        combination: 'D + L',
      },
    ],
    braces: [],
    ...over,
  };
}

const find = (rows: readonly FasteningRow[], id: string): FasteningRow => {
  const row = rows.find((candidate) => candidate.id === id);
  expect(row, id).toBeDefined();
  return row!;
};

describe('load that crosses the interfaces of a beam', () => {
  it('from one side only: w (n − 1)/n at the first interface, then one n-th less at each', () => {
    const loads = interfaceLoads({
      plies: 4,
      front: { totalPlf: 600, deadPlf: 100 },
      rear: { totalPlf: 0, deadPlf: 0 },
    });
    expect(loads.map((load) => load.plf)).toEqual([450, 300, 150]);
  });

  it('equal loads on both faces of a two-ply beam: the live part of one side can be away', () => {
    const face = { totalPlf: 400, deadPlf: 100 };
    // Front full, rear dead only: 400/2 − 100/2.
    expect(interfaceLoads({ plies: 2, front: face, rear: face })[0]!.plf).toBe(150);
  });

  it('agrees with n plies of equal deflection solved as linear equations (ml-matrix)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 5 }),
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 1000, noNaN: true }),
        (n, front, rear) => {
          // Unknowns: interface shears q1..q(n−1) and the common load per ply u. Ply i: q(i−1) + applied(i) − q(i) = u.
          const a = Matrix.zeros(n, n);
          const b = Matrix.zeros(n, 1);
          for (let i = 0; i < n; i += 1) {
            if (i > 0) a.set(i, i - 1, 1);
            if (i < n - 1) a.set(i, i, -1);
            a.set(i, n - 1, -1);
            if (i === n - 1) a.set(i, n - 1, -1);
            b.set(i, 0, -(i === 0 ? front : 0) - (i === n - 1 ? rear : 0));
          }
          const q = solve(a, b);
          const ours = interfaceLoads({
            plies: n,
            front: { totalPlf: front, deadPlf: front },
            rear: { totalPlf: rear, deadPlf: rear },
          });
          ours.forEach((load, index) => {
            expect(load.plf).toBeCloseTo(Math.abs(q.get(index, 0)), 6);
          });
        },
      ),
    );
  });

  it('refuses a dead part above the whole', () => {
    expect(() =>
      interfaceLoads({ plies: 2, front: { totalPlf: 1, deadPlf: 2 }, rear: { totalPlf: 0, deadPlf: 0 } }),
    ).toThrow(Refusal);
  });
});

describe('proposals', () => {
  it('every row is a valid row with its own id', () => {
    const rows = proposeRows(
      context({
        packs: [
          pack({ upliftLb: 300, kingLateralLb: 250, concrete: { thicknessIn: 12, edgeDistanceIn: 6 } }),
          pack({ end: 'right' }),
        ],
        ties: {
          joist: { ...STUD, name: 'ceiling joist 2x6' },
          rafters: { spanIn: 312, riseIn12: 8, spacingIn: 24, loadPlanPsf: 41, tieHeightShare: 0 },
          strapEveryIn: 48,
          strapThicknessIn: 0.048,
          strapWidthIn: 1.25,
          durationFactor: 1.15,
          combination: 'D + S',
        },
        topPlate: {
          plate: { ...STUD, name: 'top plate' },
          chordLb: 0,
          durationFactor: 1.6,
          closedBy: 'strap',
        },
        braces: [
          {
            id: 'b1',
            label: 'Front brace 1',
            brace: STUD,
            onto: STUD,
            verticalLb: 1069,
            angleDeg: 53,
            durationFactor: 1.15,
            combination: 'D + S',
          },
        ],
        shoring: {
          stud: { ...STUD, widthIn: 3.5 },
          plate: { ...STUD, widthIn: 3.5 },
          studLoadLb: 1500,
          fastener: 'duplex nails',
        },
      }),
    );
    for (const row of rows) {
      const parsed = fasteningRowSchema.safeParse(row);
      expect(parsed.success, `${row.id} ${parsed.success ? '' : parsed.error.message}`).toBe(true);
    }
    expect(new Set(rows.map((row) => row.id)).size).toBe(rows.length);
    const failing = rows.filter((row) => !judgeRow(row, EDITIONS).passes).map((row) => row.id);
    // Only what the user must still enter: listings and anchor values.
    expect(failing.sort()).toEqual(['beam-seat-left', 'hangers-front', 'sole-anchor-left']);
  });

  it('ply to ply carries the side load, and every interface is judged', () => {
    const row = find(proposeRows(context()), 'beam-plies');
    const judged = judgeRow(row, EDITIONS);
    expect(judged.passes).toBe(true);
    // Rear full, front dead only: 364 · 2/3 − 72 · 1/3.
    expect(judged.demand.value).toBeCloseTo(364 * (2 / 3) - 72 / 3, 9);
    expect(judged.prescriptive?.outcome).toBe('meets it');
  });

  it('a beam loaded on top goes by the code’s own schedule', () => {
    const none = { totalPlf: 0, deadPlf: 0 };
    const row = find(
      proposeRows(context({ beam: { ...context().beam!, front: none, rear: none } })),
      'beam-plies',
    );
    expect(row.basis.kind).toBe('prescriptive');
    expect(judgeRow(row, EDITIONS).passes).toBe(true);
  });

  it('heavy side load on five plies takes bolts', () => {
    const row = find(
      proposeRows(
        context({
          beam: {
            ...context().beam!,
            plies: 5,
            front: { totalPlf: 700, deadPlf: 100 },
            rear: { totalPlf: 0, deadPlf: 0 },
          },
        }),
      ),
      'beam-plies',
    );
    expect(row.fastener.kind).toBe('bolt');
    expect(judgeRow(row, EDITIONS).passes).toBe(true);
  });

  it('three jacks take 30d common nails; the note says that the gun nail cannot reach', () => {
    const row = find(proposeRows(context()), 'pack-plies-left');
    expect(row.fastener).toMatchObject({ kind: 'nail', diameterIn: 0.207, lengthIn: 4.5 });
    expect(row.note).toMatch(/can't reach/);
    expect(judgeRow(row, EDITIONS).passes).toBe(true);
    const gun = judgeRow(
      { ...row, fastener: { kind: 'nail', style: 'pneumatic', diameterIn: 0.131, lengthIn: 3.25 } },
      EDITIONS,
    );
    expect(gun.passes).toBe(false);
    expect(gun.notices.map((notice) => notice.text).join(' ')).toMatch(
      /each ply stands alone.*30d.*bolts by NDS 15\.3\.4/,
    );
  });

  it.each([2, 3, 4, 5])('%i plies of 2x4, 2x6 and 2x8 get a fastening that qualifies', (jacks) => {
    for (const widthIn of [3.5, 5.5, 7.25]) {
      const row = find(
        proposeRows(context({ packs: [pack({ jacks, stud: { ...STUD, widthIn } })] })),
        'pack-plies-left',
      );
      const failing = judgeRow(row, EDITIONS).checks.filter((check) => !check.passes);
      expect(
        failing.map((check) => check.sentence),
        `${jacks} plies of ${widthIn}`,
      ).toEqual([]);
      if (jacks === 5) expect(row.fastener.kind).toBe('bolt');
    }
  });

  it('a screw joins a built-up column only where its report says so', () => {
    const row = find(proposeRows(context()), 'pack-plies-left');
    const screw = (coversBuiltUpColumns: boolean): FasteningRow => ({
      ...row,
      fastener: {
        kind: 'structural screw',
        report: 'report on file',
        diameterIn: 0.2,
        rootDiameterIn: 0.15,
        lengthIn: 4.5,
        threadLengthIn: 2,
        tipLengthIn: 0.25,
        fybPsi: 150_000,
        coversBuiltUpColumns,
      },
    });
    const kind = (covers: boolean): boolean =>
      judgeRow(screw(covers), EDITIONS).checks.find((check) => check.id === 'pack-plies-left.kind')!.passes;
    expect(kind(false)).toBe(false);
    expect(kind(true)).toBe(true);
  });

  it('a king that shares the reaction must receive it through the nails', () => {
    const row = find(
      proposeRows(context({ packs: [pack({ jacks: 2, kingsThatCarry: 1 })] })),
      'jack-to-king-left',
    );
    expect(row.demand.per === 'foot' ? row.demand.lateralPlf : 0).toBeCloseTo(7243 / 3 / (85 / 12), 9);
    expect(judgeRow(row, EDITIONS).passes).toBe(true);
  });

  it('a hanger fails until its listing is entered, and by short nails where the listing forbids them', () => {
    const listing = {
      report: 'report on file',
      downLb: 1000,
      upLb: 400,
      nailsRequired: 10,
      nailDiameterIn: 0.148,
      nailLengthIn: 3,
      shortNailsAllowed: false,
    };
    const bare = find(proposeRows(context()), 'hangers-front');
    expect(judgeRow(bare, EDITIONS).governing?.sentence).toMatch(/listing/);
    const listed: FasteningRow = { ...bare, basis: { kind: 'listing', listing } };
    expect(judgeRow(listed, EDITIONS).passes).toBe(true);
    const short: FasteningRow = {
      ...listed,
      fastener: { kind: 'nail', style: 'connector', diameterIn: 0.148, lengthIn: 1.5 },
    };
    expect(judgeRow(short, EDITIONS).checks.find((check) => !check.passes)!.sentence).toMatch(
      /does not allow short nails/,
    );
  });
});

describe('thrust', () => {
  it('of a rafter pair agrees with the moment equilibrium of one rafter about the ridge', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 120, max: 480, noNaN: true }),
        fc.double({ min: 3, max: 12, noNaN: true }),
        fc.double({ min: 20, max: 80, noNaN: true }),
        (spanIn, riseIn12, psf) => {
          const { thrustLb } = rafterThrust(
            { spanIn, riseIn12, spacingIn: 16, loadPlanPsf: psf, tieHeightShare: 0 },
            EDITIONS,
          );
          const halfLb = (psf / 144) * 16 * (spanIn / 2);
          const riseIn = (spanIn / 2) * (riseIn12 / 12);
          // Reaction · L/2 − load · L/4 − H · rise = 0
          expect(halfLb * (spanIn / 2) - halfLb * (spanIn / 4) - thrustLb * riseIn).toBeCloseTo(0, 4);
        },
      ),
    );
  });
  it('refuses ties above the lower third', () => {
    expect(() => raisedTieFactor(0.5)).toThrow(/ridge beam/);
  });
  it('of a brace is V / tan θ, nothing when upright', () => {
    expect(braceThrustLb({ verticalLb: 1000, angleDeg: 45 })).toBeCloseTo(1000, 9);
    expect(braceThrustLb({ verticalLb: 1000, angleDeg: 90 })).toBe(0);
    expect(() => braceThrustLb({ verticalLb: 1000, angleDeg: 0 })).toThrow(Refusal);
  });
});
