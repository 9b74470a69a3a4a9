import { describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { calculateBeam } from '../../../src/engineering/proposal/beam.ts';
import { hangerSchema, type Beam, type Hanger } from '../../../src/engineering/proposal/design.ts';
import { calculateHanger, hangerDemand } from '../../../src/engineering/proposal/hanger.ts';
import type { Survey } from '../../../src/engineering/proposal/survey.ts';
import { Refusal, type Quantity } from '../../../src/engineering/trace/index.ts';

const at40: Survey = {
  ...demoSurvey,
  strips: demoSurvey.strips.map((strip) => (strip.id === 'upper-floor' ? { ...strip, livePsf: 40 } : strip)),
};
const listing = {
  report: 'invented report 12 of 2026',
  downLb: 500,
  upLb: 100,
  nailsRequired: 10,
  nailDiameterIn: 0.148,
  nailLengthIn: 3,
  shortNailsAllowed: false,
};
const hanger: Hanger = hangerSchema.parse({
  side: 'front',
  joistSize: '2x10',
  spacingIn: 16,
  nailCount: 10,
  nailDiameterIn: 0.148,
  nailLengthIn: 3,
  listing,
});
const failing = (over: Partial<Hanger>) =>
  calculateHanger(at40, demoCriteria, demoBeam, { ...hanger, ...over })
    .checks.filter((check) => !check.passes)
    .map((check) => check.id);
const refusal = (action: () => unknown): Refusal => {
  try {
    action();
  } catch (error) {
    if (error instanceof Refusal) return error;
  }
  throw new Error('nothing was refused');
};

describe('a line of hangers', () => {
  it('carries half of the joist: 52 psf x 6 ft x 16 in = 416 lb in front, x 7 ft = 485 lb behind', () => {
    // Tributary area by hand: (12 + 40) psf on half of 12 ft and of 14 ft, a joist every 16 in.
    expect(hangerDemand(at40, demoCriteria, demoBeam, hanger).downLb).toBeCloseTo(52 * 6 * (16 / 12), 9);
    const rear = hangerDemand(at40, demoCriteria, demoBeam, { side: 'rear', spacingIn: 16 });
    expect(rear.downLb).toBeCloseTo(52 * 7 * (16 / 12), 9);
    expect(rear.combination).toBe('D + L');
  });

  it('agrees with the joist end that the beam states for the spacing surveyed, and grows with its own spacing', () => {
    const { outputs } = calculateBeam(at40, demoCriteria, demoBeam);
    const stated = (outputs['joist end, front'] as Quantity).value;
    expect(hangerDemand(at40, demoCriteria, demoBeam, hanger).downLb).toBeCloseTo(stated, 9);
    const wider = hangerDemand(at40, demoCriteria, demoBeam, { side: 'front', spacingIn: 24 });
    expect(wider.downLb).toBeCloseTo(stated * 1.5, 9);
  });

  it('passes by its listing, and fails where load, count, diameter or length fall short', () => {
    expect(failing({})).toEqual([]);
    expect(failing({ listing: { ...listing, downLb: 400 } })).toEqual(['hangers-front.down']);
    expect(failing({ spacingIn: 24 })).toEqual(['hangers-front.down']);
    expect(failing({ nailCount: 9 })).toEqual(['hangers-front.nail-count']);
    expect(failing({ nailDiameterIn: 0.131 })).toEqual(['hangers-front.nail-diameter']);
    expect(failing({ nailLengthIn: 1.5 })).toEqual(['hangers-front.nail-length']);
    expect(failing({ nailLengthIn: 1.5, listing: { ...listing, shortNailsAllowed: true } })).toEqual([]);
  });

  it('has a load and no capacity before a listing is entered', () => {
    const { listing: _listing, ...bare } = hanger;
    const { checks } = calculateHanger(at40, demoCriteria, demoBeam, bare);
    expect(checks.map((check) => [check.passes, check.ratio])).toEqual([[false, Infinity]]);
    expect(checks[0]?.sentence).toContain('Enter the listing');
  });

  it('says where the joist is deeper than the beam, and where the beam is steel', () => {
    const ids = (over: Partial<Hanger>, beam = demoBeam) =>
      calculateHanger(at40, demoCriteria, beam, { ...hanger, ...over }).notices.map((notice) => notice.id);
    expect(ids({})).not.toContain('hanger.joist-deeper');
    expect(ids({ joistSize: '2x12' })).toContain('hanger.joist-deeper');
    expect(ids({}, { ...demoBeam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } })).toContain(
      'hanger.on-steel',
    );
  });

  it('says how high the jacks are where the beam hangs below its joists: 97 1/8 - 1 1/2 - (11 7/8 - 9 1/4) in', () => {
    const below = (depthIn: number) =>
      calculateHanger(
        at40,
        demoCriteria,
        {
          ...demoBeam,
          member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn, plies: 3 },
        },
        { ...hanger, joistSize: '2x10' },
      ).notices.find((notice) => notice.id === 'hanger.beam-below')?.text;
    expect(at40.wallHeightIn).toBe(97.125);
    expect(below(11.875)).toContain(
      `hangs 2 5/8" below them: the jacks under it are 7'-9" high, not 7'-11 5/8"`,
    );
    expect(below(9.25)).toBeUndefined();
  });

  it('says the same of beams of sawn lumber, steel and both: a 2x12 is 11 1/4 in (PS 20), a W10x26 10.3 in deep (AISC)', () => {
    const below = (member: Beam['member']) =>
      calculateHanger(
        at40,
        demoCriteria,
        { ...demoBeam, member },
        { ...hanger, joistSize: '2x10' },
      ).notices.find((notice) => notice.id === 'hanger.beam-below')?.text;
    const lumber = { species: 'DF-L', grade: 'No.2', size: '2x12' } as const;
    expect(below({ kind: 'sawn', ...lumber, plies: 3 })).toContain('hangs 2" below them');
    expect(
      below({
        kind: 'flitch',
        ...lumber,
        woodPlies: 2,
        plates: 1,
        plateThicknessIn: 0.5,
        plateDepthIn: 11,
        boltDiameterIn: 0.5,
        boltSpacingIn: 16,
        boltsAtEachEnd: 2,
      }),
    ).toContain('hangs 2" below them');
    expect(below({ kind: 'steel', shape: 'W10x26', fyKsi: 50 })).toContain('hangs 1 1/16" below them');
  });

  it('refuses a dropped beam, a face without joists, and a size that is not sawn', () => {
    const dropped = { ...demoBeam, placement: 'dropped' as const };
    expect(refusal(() => hangerDemand(at40, demoCriteria, dropped, hanger)).path).toBe('side');
    const oneSided = { ...at40, strips: at40.strips.map((strip) => ({ ...strip, frontSpanIn: 0 })) };
    expect(refusal(() => hangerDemand(oneSided, demoCriteria, demoBeam, hanger)).message).toContain('front');
    const odd = { ...hanger, joistSize: '3x99' };
    expect(refusal(() => calculateHanger(at40, demoCriteria, demoBeam, odd)).path).toBe('joistSize');
    expect(hangerSchema.safeParse({ ...hanger, spacingIn: 0 }).success).toBe(false);
    expect(hangerSchema.safeParse({ ...hanger, spacingIn: NaN }).success).toBe(false);
  });
});
