import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkFooting,
  checkGirderPost,
  checkPad,
  checkSquashBlocks,
  effectivePad,
  footingWidthUntil2012,
  ircFootingWidth,
  requiredPad,
  soilsCarrying,
  type FootingInput,
  type PadInput,
} from '../../../src/engineering/foundation/index.ts';
import { Refusal, type Editions } from '../../../src/engineering/trace/index.ts';

const editions: Editions = { asce7: '7-16', nds: '2018', irc: '2021', aci318: '318-19', aisc360: '360-16' };
const footprint = { alongIn: 4.5, acrossIn: 5.5 };

function footing(change: Partial<FootingInput> = {}): FootingInput {
  return {
    end: 'left',
    found: 'cored',
    foundWidthIn: 16,
    foundThicknessIn: 9.75,
    postTensioned: 'no',
    concretePsi: 2500,
    footprint,
    serviceLb: 7571,
    factoredLb: 11_000,
    soilBearingPsf: 1500,
    editions,
    ...change,
  };
}

describe('evidence of what is under a pack', () => {
  it('nothing known: fails, and says to open up and look', () => {
    const result = checkFooting(footing({ found: 'nothing known', foundWidthIn: 0, foundThicknessIn: 0 }));
    expect(result.checks).toHaveLength(1);
    expect(result.checks[0]!.passes).toBe(false);
    expect(result.checks[0]!.sentence).toContain('open up and look');
    expect(result.padNeeded).toBeDefined();
    expect(result.judged).toBeUndefined();
  });

  it('a post-tensioned slab is never cut on this program’s word', () => {
    const pad = { alongIn: 30, acrossIn: 30, thicknessIn: 12 };
    for (const postTensioned of ['yes', 'unknown'] as const) {
      const result = checkFooting(footing({ postTensioned, pad }));
      const tendons = result.checks.find((check) => check.id === 'footing.left.tendons')!;
      expect(tendons.passes).toBe(false);
      expect(result.padNeeded).toBeUndefined();
      const bare = checkFooting(footing({ postTensioned }));
      expect(bare.padNeeded).toBeUndefined();
      expect(bare.notices.some((notice) => notice.id === 'footing.left.tendons')).toBe(true);
      expect(bare.notices.some((notice) => notice.id === 'footing.left.pad-needed')).toBe(false);
    }
    expect(checkFooting(footing({ pad })).checks.some((check) => check.id === 'footing.left.tendons')).toBe(
      false,
    );
  });

  it('a strip spreads the load no wider than it is thick', () => {
    const { pad } = effectivePad({ widthIn: 16, thicknessIn: 9.75 }, footprint, editions);
    expect(pad).toEqual({ alongIn: 24, acrossIn: 16, thicknessIn: 9.75 });
    const slab = effectivePad({ widthIn: 240, thicknessIn: 4.25 }, footprint, editions);
    expect(slab.pad).toEqual({ alongIn: 13, acrossIn: 14, thicknessIn: 4.25 });
  });

  it('fails a 4 1/4 in slab by pressure and by thickness, and proposes a pad that passes', () => {
    const thin = footing({ found: 'probed', foundWidthIn: 240, foundThicknessIn: 4.25 });
    const result = checkFooting(thin);
    const failed = result.checks.filter((check) => !check.passes).map((check) => check.id);
    expect(failed).toContain('footing.left.soil');
    expect(failed).toContain('footing.left.thickness');
    expect(result.netPressurePsf).toBeCloseTo((7571 / (13 * 14)) * 144, 9);
    const padded = checkFooting({ ...thin, pad: result.padNeeded! });
    expect(padded.checks.every((check) => check.passes)).toBe(true);
    expect(padded.judged!.what).toBe('pad');
  });

  it('a footing known from plans alone carries a caution', () => {
    const result = checkFooting(footing({ found: 'plans' }));
    expect(result.notices.map((notice) => notice.id)).toContain('footing.left.plans-only');
  });

  it.each([
    ['footing.left.foundThicknessIn', { foundThicknessIn: 0 }],
    ['footing.left.serviceLb', { serviceLb: Number.NaN }],
    ['foundWidthIn', { foundWidthIn: 4 }],
    ['footing.left.pad.alongIn', { pad: { alongIn: 4, acrossIn: 30, thicknessIn: 12 } }],
    ['thicknessIn', { pad: { alongIn: 30, acrossIn: 30, thicknessIn: 2 } }],
    ['concretePsi', { concretePsi: 25 }],
  ])('refuses nonsense at %s', (path, change) => {
    expect(() => checkFooting(footing(change))).toThrow(expect.objectContaining({ path }) as Error);
  });
});

describe('pads', () => {
  const input = (change: Partial<PadInput> = {}): PadInput => ({
    pad: { alongIn: 30, acrossIn: 30, thicknessIn: 12 },
    footprint,
    serviceLb: 7571,
    factoredLb: 12_000,
    soilBearingPsf: 1500,
    concretePsi: 2500,
    editions,
    ...change,
  });

  it('counts its own weight on the soil: 7 571 lb on 30 × 30 × 12 in is 1 361 psf', () => {
    const soil = checkPad('pad', input()).find((check) => check.id === 'pad.soil')!;
    expect(soil.demand.value).toBeCloseTo(7571 / 6.25 + 150, 9);
    expect(Math.round(soil.demand.value)).toBe(1361);
  });

  it('has no shear where the critical section lies outside, and bearing grows by √(A2/A1) up to 2', () => {
    const checks = checkPad('pad', input({ pad: { alongIn: 18, acrossIn: 18, thicknessIn: 16 } }));
    const find = (id: string) => checks.find((check) => check.id === id)!;
    expect(find('pad.shear.two-way').demand.value).toBe(0);
    expect(find('pad.shear.one-way.along').demand.value).toBe(0);
    expect(find('pad.bearing').capacity.value).toBeCloseTo(0.6 * 0.85 * 2500 * 4.5 * 5.5 * 2, 6);
    const tight = checkPad('pad', input({ pad: { alongIn: 6, acrossIn: 30, thicknessIn: 12 } }));
    expect(tight.find((check) => check.id === 'pad.bearing')!.capacity.value).toBeCloseTo(
      0.6 * 0.85 * 2500 * 4.5 * 5.5 * (6 / 4.5),
      6,
    );
  });

  it('works out 30 × 30 × 10 for 7 571 lb: hand calculation', () => {
    // t 8: 1400 psf → 28 in; h 6: φMn 25.2 kip-in < Mu 15.3·28·11.75²/2 = 29.6. t 10: 1375 psf → 28.2 → 30 in; h 8: φMn 48 > Mu 13.3·30·12.75²/2 = 32.5.
    expect(requiredPad(input())).toEqual({ alongIn: 30, acrossIn: 30, thicknessIn: 10 });
  });

  it('goes long where the room across is short, and gives up where soil can not carry the pad itself', () => {
    const narrow = requiredPad({ ...input(), acrossLimitIn: 21 })!;
    expect(narrow.acrossIn).toBe(20);
    expect(narrow.alongIn).toBeGreaterThan(30);
    expect(requiredPad(input({ soilBearingPsf: 90 }))).toBeUndefined();
  });

  it('every pad it proposes passes every check, and two inches less in thickness fails', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 38_000 }),
        fc.constantFrom(1500, 2000, 3000),
        fc.double({ min: 1.2, max: 1.6, noNaN: true }),
        (serviceLb, soilBearingPsf, factor) => {
          const load = input({ serviceLb, factoredLb: factor * serviceLb, soilBearingPsf });
          const pad = requiredPad(load)!;
          expect(checkPad('pad', { ...load, pad }).filter((check) => !check.passes)).toEqual([]);
          expect([pad.alongIn % 2, pad.thicknessIn % 2, pad.alongIn - pad.acrossIn]).toEqual([0, 0, 0]);
          if (pad.thicknessIn === 8) return;
          // The smallest even square that the soil carries at two inches less: a larger one bends more still.
          const thicknessIn = pad.thicknessIn - 2;
          let side = 6;
          while ((serviceLb / side ** 2) * 144 + 12.5 * thicknessIn > soilBearingPsf) side += 2;
          const thinner = { alongIn: side, acrossIn: side, thicknessIn };
          expect(checkPad('pad', { ...load, pad: thinner }).some((check) => !check.passes)).toBe(true);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('no pad helps where the concrete is crushed under the pack: φ 0.85 f′c A1 · 2 = 63 113 lb', () => {
    const crushed = input({ serviceLb: 40_000, factoredLb: 63_200 });
    expect(requiredPad(crushed)).toBeUndefined();
    expect(requiredPad({ ...crushed, factoredLb: 63_100 })).toBeDefined();
    const result = checkFooting(footing({ serviceLb: 40_000, factoredLb: 63_200 }));
    expect(result.notices.map((notice) => notice.id)).toContain('footing.left.no-plain-pad');
  });

  it('all ratios grow with load; soil pressure falls with size', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12, max: 60 }), fc.integer({ min: 100, max: 30_000 }), (side, load) => {
        const pad = { alongIn: side, acrossIn: side, thicknessIn: 12 };
        const light = checkPad('pad', input({ pad, serviceLb: load, factoredLb: 1.5 * load }));
        const heavy = checkPad('pad', input({ pad, serviceLb: 2 * load, factoredLb: 3 * load }));
        const wider = checkPad('pad', input({ pad: { ...pad, alongIn: side + 2 }, serviceLb: load }));
        return (
          light.every((check, i) => heavy[i]!.ratio >= check.ratio) && wider[0]!.ratio <= light[0]!.ratio
        );
      }),
    );
  });
});

describe('code tables as a second opinion', () => {
  it('steps by soil and never interpolates', () => {
    expect(footingWidthUntil2012(3, 1999).widthIn).toBe(23);
    expect(footingWidthUntil2012(3, 2000).widthIn).toBe(17);
    expect(() => footingWidthUntil2012(1, 1000)).toThrow(Refusal);
    expect(soilsCarrying(2000).map((soil) => soil.bearingPsf)).toEqual([12_000, 4000, 3000, 2000]);
  });

  it('Table R403.1(1) is monotone: more snow, more storeys or a deeper foundation never asks less, better soil never more', () => {
    const width = (
      storeys: 1 | 2 | 3,
      foundation: 'slab' | 'crawlspace' | 'basement',
      snowPsf: number,
      soilPsf: number,
    ) => ircFootingWidth({ editions, storeys, foundation, snowPsf, soilPsf }).widthIn;
    const soils = [1500, 2000, 2500, 3000, 3500, 4000];
    const snows = [20, 30, 50, 70];
    const types = ['slab', 'crawlspace', 'basement'] as const;
    for (const [s, snow] of snows.entries()) {
      for (const storeys of [1, 2, 3] as const) {
        for (const [t, type] of types.entries()) {
          for (const [q, soil] of soils.entries()) {
            const here = width(storeys, type, snow, soil);
            if (q > 0) expect(here).toBeLessThanOrEqual(width(storeys, type, snow, soils[q - 1]!));
            if (s > 0) expect(here).toBeGreaterThanOrEqual(width(storeys, type, snows[s - 1]!, soil));
            if (storeys > 1) {
              expect(here).toBeGreaterThanOrEqual(width((storeys - 1) as 1 | 2, type, snow, soil));
            }
            if (t > 0) expect(here).toBeGreaterThanOrEqual(width(storeys, types[t - 1]!, snow, soil));
            expect(here).toBeGreaterThanOrEqual(12);
          }
        }
      }
    }
    expect(() => width(1, 'slab', 71, 1500)).toThrow(Refusal);
  });
});

describe('wood below the pack', () => {
  const combinations = [{ name: 'D + S', loadDuration: 1.15, axialLb: 6000 }];
  const blocks = { species: 'SPF', grade: 'No.2', size: '2x6', count: 3 };
  const below = { species: 'HF', grade: 'No.2', size: '2x6', endDistanceIn: 0 };

  it('squash blocks: Hem-Fir plate below at 6 000 ÷ (3 · 8.25 in²) = 242 psi of 405', () => {
    const checks = checkSquashBlocks({
      end: 'left',
      blocks,
      heightIn: 9.25,
      below,
      packAlongIn: 4.5,
      combinations,
      editions,
    });
    const bearing = checks.find((check) => check.id === 'squash.left.bearing')!;
    expect(bearing.demand.value).toBeCloseTo(6000 / 3 / 8.25, 9);
    expect(bearing.capacity.value).toBe(405);
    expect(checks.every((check) => check.passes)).toBe(true);
    const beside = checkSquashBlocks({
      end: 'left',
      blocks: { ...blocks, count: 4 },
      heightIn: 9.25,
      below,
      packAlongIn: 4.5,
      combinations,
      editions,
    });
    expect(beside.find((check) => check.id === 'squash.left.fit')!.passes).toBe(false);
  });

  it('girder post: a pack beside the post fails and says what to do', () => {
    const post = {
      end: 'right' as const,
      post: { species: 'DF-L', grade: 'No.2', size: '4x6' },
      heightIn: 36,
      girder: { species: 'DF-L', grade: 'No.2', size: '2x10', plies: 3 },
      girderEndDistanceIn: 24,
      offPostIn: 2,
      combinations,
      editions,
    };
    const over = checkGirderPost(post);
    expect(over.checks.every((check) => check.passes)).toBe(true);
    const off = checkGirderPost({ ...post, offPostIn: -12 });
    const check = off.checks.find((entry) => entry.id === 'girder-post.right.over')!;
    expect(check.passes).toBe(false);
    expect(check.sentence).toContain('Calculate the girder');
  });

  it('refuses half a block', () => {
    expect(() =>
      checkSquashBlocks({
        end: 'left',
        blocks: { ...blocks, count: 1.5 },
        heightIn: 9,
        below,
        packAlongIn: 5,
        combinations,
        editions,
      }),
    ).toThrow(Refusal);
  });
});
