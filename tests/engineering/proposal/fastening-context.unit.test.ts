import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { judgeRow } from '../../../src/engineering/fasteners/index.ts';
import {
  fasteningContext,
  proposeFastening,
  rowFor,
  type FasteningDesign,
} from '../../../src/engineering/proposal/fastening-context.ts';
import { governingLoad } from '../../../src/engineering/proposal/fastening/governing.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';

const design: FasteningDesign = {
  criteria: demoCriteria,
  survey: demoSurvey,
  beam: demoBeam,
  supports: demoSupports,
  footings: demoFootings,
};
const withSurvey = (over: Partial<Survey>): FasteningDesign => ({
  ...design,
  survey: { ...demoSurvey, ...over },
});

describe('loads that cross a joint, by hand', () => {
  const { context } = fasteningContext(design);

  it('takes half of each cut span to each face: (12 + 30 + 8 + 10) psf on 6 ft and 7 ft', () => {
    expect(context.beam?.front).toEqual({ totalPlf: 360, deadPlf: 120 });
    expect(context.beam?.rear).toEqual({ totalPlf: 420, deadPlf: 140 });
    expect(context.beam).toMatchObject({ combination: 'D + L', durationFactor: 1, plies: 3, lengthIn: 136 });
  });

  it('gives a hanger the heaviest joist end: 42 psf on 6 ft and 7 ft, 16 in apart', () => {
    expect(context.hangers.map(({ side, downLb }) => [side, Math.round(downLb)])).toEqual([
      ['front', 336],
      ['rear', 392],
    ]);
  });

  it('leaves on top what stands on top: the wall, 8 psf on 8 ft, and the beam itself', () => {
    // 42 pcf on 5.25 in x 9.5 in.
    expect(context.beam?.topPlf).toBeCloseTo(64 + (42 * 5.25 * 9.5) / 144, 6);
  });

  it('lets every brace on the beam push: D 15 psf on the slope of 8 in 12, snow 0.7 · 1.1 · 30 on 26 ft²', () => {
    const dead = 15 * Math.sqrt(1 + (8 / 12) ** 2) * 26;
    expect(context.braces).toHaveLength(6);
    for (const foot of context.braces) {
      // Warm slope of 33.7°, Ct 1.1, not slippery: no reduction up to 37.5° (ASCE 7-16 Fig. 7.4-1b).
      expect(foot.verticalLb).toBeCloseTo(dead + 0.7 * 1.1 * 30 * 26, 6);
      expect(foot).toMatchObject({ combination: 'D + S', durationFactor: 1.15 });
    }
  });

  it('leaves braces beside the beam where they are', () => {
    const [first, ...others] = demoSurvey.braces;
    const moved = withSurvey({ braces: [{ ...first!, positionIn: 5 }, ...others] });
    expect(fasteningContext(moved).context.braces.map((foot) => foot.id)).not.toContain(first!.id);
  });

  it('has no faces, hangers, ties or cut plate where the beam lies below the joists', () => {
    const dropped = fasteningContext({ ...design, beam: { ...demoBeam, placement: 'dropped' } }).context;
    expect(dropped.beam?.front.totalPlf).toBe(0);
    expect(dropped.hangers).toEqual([]);
    expect(dropped.topPlate).toBeUndefined();
  });

  it('counts a strip only where it lies, and no dead relief where it is missing', () => {
    const [floor] = demoSurvey.strips;
    const short = { ...floor!, rearSpanIn: 0, fromIn: 100, toIn: 170 };
    const rearOnly = { ...floor!, id: 'rear', frontSpanIn: 0, fromIn: 0, toIn: 100 };
    const { front, rear } = fasteningContext(withSurvey({ strips: [short, rearOnly] })).context.beam!;
    expect(front).toEqual({ totalPlf: 252, deadPlf: 0 });
    expect(rear).toEqual({ totalPlf: 294, deadPlf: 0 });
  });
});

describe('packs', () => {
  it('brings wind on the kings of an exterior wall to either end', () => {
    const criteria = { ...demoCriteria, windWallPsf: 20 };
    const outside = { ...withSurvey({ wallIsExterior: true }), criteria };
    // 0.6 · 20 psf on half of 130 in and half of 16 in, 97-1/8 in high, half to an end.
    const expected = ((12 / 144) * (130 / 2 + 8) * 97.125) / 2;
    for (const pack of fasteningContext(outside).context.packs) {
      expect(pack.kingLateralLb).toBeCloseTo(expected, 9);
      expect(pack.concrete?.edgeDistanceIn).toBe(5.5 / 2);
    }
    const nails = proposeFastening(outside).rows.find((row) => row.id === 'king-to-plate-left')!;
    expect(nails.demand).toMatchObject({ per: 'joint', lateralLb: expected, durationFactor: 1.6 });
  });

  it('lifts where wind takes more than the dead load that holds the beam down', () => {
    const roof = {
      ...demoSurvey.strips[1]!,
      id: 'roof',
      carries: 'roof' as const,
      deadPsf: 10,
      livePsf: 0,
      roofRiseIn12: 4,
    };
    const windy = {
      ...withSurvey({ strips: [roof], wallsAbove: [], braces: [] }),
      criteria: { ...demoCriteria, windUpliftPsf: 40 },
    };
    const { packs } = fasteningContext(windy).context;
    expect(packs[0]?.upliftLb).toBeGreaterThan(0);
    const seat = proposeFastening(windy).rows.find((row) => row.id === 'beam-seat-left')!;
    expect(seat.demand).toMatchObject({ per: 'connector', upLb: packs[0]!.upliftLb });
  });

  it('counts a pack as one column only where its fastening qualifies, and a post as one piece', () => {
    const loose = demoSupports.map((support) => ({ ...support, fastening: 'not qualifying' as const }));
    const post = demoSupports.map((support) => ({ ...support, kind: 'post' as const, size: '4x6' }));
    expect(fasteningContext(design).context.packs[0]).toMatchObject({ countedAsOneColumn: true, jacks: 2 });
    expect(fasteningContext({ ...design, supports: loose }).context.packs[0]).toMatchObject({
      countedAsOneColumn: false,
    });
    expect(fasteningContext({ ...design, supports: post }).context.packs[0]).toMatchObject({ jacks: 1 });
  });

  it('says which support is missing', () => {
    const { notices } = fasteningContext({ ...design, supports: demoSupports.slice(0, 1) });
    expect(notices.map((notice) => notice.id)).toContain('fastening.no-right');
  });
});

describe('ties, steel, flitch, shoring', () => {
  it('ties the rafters across the beam: w L² / 8 h, with L twice the longer slope', () => {
    const strips = demoSurvey.strips.map((strip) =>
      strip.carries === 'ceiling' ? { ...strip, tiesRafters: true } : strip,
    );
    const { ties } = fasteningContext(withSurvey({ strips, braces: [] })).context;
    const dead = 15 * Math.sqrt(1 + (8 / 12) ** 2);
    expect(ties?.rafters).toMatchObject({ spanIn: 312, spacingIn: 16, riseIn12: 8, tieHeightShare: 0 });
    expect(ties?.rafters.loadPlanPsf).toBeCloseTo(dead + 0.7 * 1.1 * 30, 6);
    const row = proposeFastening(withSurvey({ strips, braces: [] })).rows.find(
      (one) => one.id === 'joist-ties',
    )!;
    // H = w L / (4 · 8/12) for w in lb/in of one pair.
    const thrust = ((((dead + 23.1) / 144) * 16 * 312) / 4) * (12 / 8);
    expect(row.demand).toMatchObject({ per: 'joint' });
    expect('lateralLb' in row.demand && row.demand.lateralLb).toBeCloseTo(thrust, 6);
  });

  it('proposes no wood joints for a steel beam and says so', () => {
    const steel = { ...design, beam: { ...demoBeam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } } };
    const { rows, notices } = proposeFastening(steel as FasteningDesign);
    expect(rows.some((row) => row.joint === 'beam plies' || row.joint === 'joist hanger')).toBe(false);
    expect(rows.some((row) => row.joint === 'stud pack plies')).toBe(true);
    expect(notices.map((notice) => notice.id)).toContain('fastening.steel');
  });

  it('nails into the outer ply of a flitch beam and leaves its bolts to the beam', () => {
    const member = {
      kind: 'flitch',
      species: 'DF-L',
      grade: 'No.2',
      size: '2x10',
      woodPlies: 2,
      plateThicknessIn: 0.375,
      plateDepthIn: 9,
      plates: 1,
      boltDiameterIn: 0.5,
      boltSpacingIn: 16,
    } as const;
    const { rows } = proposeFastening({ ...design, beam: { ...demoBeam, member } });
    expect(rows.some((row) => row.joint === 'beam plies')).toBe(false);
    expect(rows.find((row) => row.id === 'hangers-front')?.members[1]?.thicknessIn).toBe(1.5);
  });

  it('fastens the shores by their own load, and does without where the plan can’t be', () => {
    const shoring = {
      sides: 'both',
      offsetIn: 24,
      studSize: '2x4',
      species: 'SPF',
      grade: 'Stud',
      studSpacingIn: 16,
      midHeightBracingIn: 48,
      topPlates: 2,
      soleOn: 'slab',
      storeysShored: 1,
      bracesRelanded: true,
    } as const;
    const { context } = fasteningContext({ ...design, shoring, shoringFastener: 'screws' });
    expect(context.shoring?.studLoadLb).toBeGreaterThan(100);
    expect(proposeFastening({ ...design, shoring }).rows.at(-1)?.fastener).toMatchObject({ style: 'duplex' });
    const nonsense = fasteningContext({ ...design, shoring: { ...shoring, species: 'balsa' } });
    expect(nonsense.context.shoring).toBeUndefined();
    expect(nonsense.notices.map((notice) => notice.id)).toContain('fastening.shoring');
  });
});

describe('the proposal as a whole', () => {
  it('passes all of its own checks but for what only a listing can answer', () => {
    const failing = proposeFastening(design).rows.filter(
      (row) => !judgeRow(row, demoCriteria.editions).passes,
    );
    expect(failing.map((row) => row.id)).toEqual(['hangers-front', 'hangers-rear']);
  });

  it('keeps listings and anchor values that were typed in', () => {
    const listing = {
      report: 'Report 1',
      downLb: 800,
      upLb: 200,
      nailsRequired: 12,
      nailDiameterIn: 0.148,
      nailLengthIn: 1.5,
      shortNailsAllowed: true,
    };
    const declared = {
      report: 'Report 2',
      shearLb: 900,
      tensionLb: 700,
      leastEdgeIn: 2,
      leastSpacingIn: 3,
      leastEmbedmentIn: 3.5,
      leastConcreteThicknessIn: 4,
    };
    const { rows } = proposeFastening(design);
    const entered = rows.map((row) => {
      if (row.id === 'hangers-front') return { ...row, basis: { kind: 'listing' as const, listing } };
      if (row.id !== 'sole-anchor-left' || row.basis.kind !== 'anchor') return row;
      return { ...row, basis: { ...row.basis, declared } };
    });
    const again = proposeFastening({ ...design, entered }).rows;
    const hanger = again.find((row) => row.id === 'hangers-front')!;
    expect(hanger).toMatchObject({ basis: { listing }, pattern: { count: 12 } });
    expect(judgeRow(hanger, demoCriteria.editions).passes).toBe(true);
    expect(again.find((row) => row.id === 'sole-anchor-left')).toMatchObject({ basis: { declared } });
    expect(again.find((row) => row.id === 'hangers-rear')?.basis).toEqual({ kind: 'listing' });
    // A hanger line of the design comes first.
    const line = {
      side: 'front',
      joistSize: '2x10',
      spacingIn: 16,
      nailCount: 14,
      nailDiameterIn: 0.162,
      nailLengthIn: 2.5,
      listing: { ...listing, nailsRequired: 14 },
    } as const;
    const lined = proposeFastening({ ...design, entered, hangers: [line] }).rows;
    expect(lined.find((row) => row.id === 'hangers-front')).toMatchObject({ pattern: { count: 14 } });
  });

  it('finds the row that stands for a proposed one by name, else as the only one of its joint', () => {
    const { rows } = proposeFastening(design);
    const own = { ...rows[0]!, id: 'n1' };
    expect(rowFor([own], 'beam-plies', 'beam plies')).toBe(own);
    expect(rowFor(rows, 'jack-to-king-right', 'jack to king')?.id).toBe('jack-to-king-right');
    expect(rowFor(rows, 'elsewhere', 'jack to king')).toBeUndefined();
  });
});

describe('the governing combination of a fastener', () => {
  it('weighs force against load duration: permanent load can govern over a larger total', () => {
    // 1000/0.9 = 1111 over 1050/1.0.
    expect(governingLoad(demoCriteria.editions, { D: 1000, L: 50 })).toMatchObject({
      value: 1000,
      durationFactor: 0.9,
      combination: 'D',
    });
    expect(governingLoad(demoCriteria.editions, { D: 100, L: 900 })).toMatchObject({
      value: 1000,
      durationFactor: 1,
    });
  });

  it('is never less than any single combination over its CD', () => {
    const load = fc.double({ min: 0, max: 5000, noNaN: true });
    fc.assert(
      fc.property(load, load, load, load, (D, L, Lr, S) => {
        const worst = governingLoad(demoCriteria.editions, { D, L, Lr, S });
        const asked = [
          D / 0.9,
          D + L,
          (D + Lr) / 1.25,
          (D + S) / 1.15,
          (D + 0.75 * (L + Lr)) / 1.25,
          (D + 0.75 * (L + S)) / 1.15,
        ];
        // CD of a combination is that of the loads that are there: an absent one shortens nothing.
        const present = asked.filter((_, index) => index < 2 || ([2, 4].includes(index) ? Lr > 0 : S > 0));
        expect(worst.value / worst.durationFactor).toBeGreaterThanOrEqual(Math.max(...present) * (1 - 1e-12));
      }),
    );
  });
});
