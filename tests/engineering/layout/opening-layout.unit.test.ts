import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beamLifts,
  beamOutline,
  howToLift,
  layOutOpening,
  toSixteenth,
  USUAL_PACK_PLY_IN,
} from '../../../src/engineering/layout/index.ts';
import type { LayoutElevationModel } from '../../../src/report/drawings/index.ts';
import { beam, editions, layoutInput, support } from './layout-fixtures.ts';

const at = (layout: ReturnType<typeof layOutOpening>, id: string) =>
  layout.marks.find((mark) => mark.id === id)!;

describe('marks along the wall', () => {
  it('five plies measure 7 3/4 in: one ply 1.55', () => {
    expect(USUAL_PACK_PLY_IN * 5).toBeCloseTo(7.75, 12);
  });

  it('stacks jacks and king outward from the faces of the opening, as thick as measured', () => {
    const layout = layOutOpening(layoutInput());
    expect(at(layout, 'left.jack.1').atIn).toBeCloseTo(20 - 1.55, 9);
    expect(at(layout, 'left.jack.3').atIn).toBeCloseTo(20 - 4.65, 9);
    expect(at(layout, 'left.king.1').atIn).toBeCloseTo(20 - 6.2, 9);
    expect(at(layout, 'right.king.1').atIn).toBeCloseTo(150 + 6.2, 9);
    expect(at(layout, 'left.king.1').tape).toBe(`1'-1 13/16"`);
    const measured = layOutOpening(layoutInput({ measuredPlyIn: 1.5 }));
    expect(at(measured, 'left.king.1').atIn).toBe(14);
  });

  it('puts beam ends by the bearing of the design and says where the pack is longer', () => {
    const layout = layOutOpening(layoutInput());
    expect(layout.beam.lengthIn).toBe(139);
    expect(at(layout, 'beam.left').atIn).toBe(15.5);
    expect(at(layout, 'cut.top-plate.right').atIn).toBe(154.5);
    const gap = layout.notices.find((notice) => notice.id === 'layout.left.gap')!;
    expect(gap.text).toContain('1/8"');
    const short = layOutOpening(layoutInput({ supports: [support('left', { jacks: 2 }), support('right')] }));
    expect(short.notices.map((notice) => notice.id)).toContain('layout.left.short-seat');
  });

  it('a dropped beam leaves the top plates and the joists whole', () => {
    const layout = layOutOpening(layoutInput({ beam: { ...beam, placement: 'dropped' } }));
    expect(layout.marks.some((mark) => mark.id.startsWith('cut.top-plate'))).toBe(false);
    expect(layout.joistCutFromMiddleIn).toBeUndefined();
    expect(layOutOpening(layoutInput()).joistCutFromMiddleIn).toBeCloseTo(5.25 / 2 + 1 / 16, 12);
  });

  it('runs from the datum in order, each mark within 1/32 in of its tape', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 60, noNaN: true }),
        fc.double({ min: 90, max: 140, noNaN: true }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 0, max: 3 }),
        fc.double({ min: 1.4, max: 1.7, noNaN: true }),
        (openingFromIn, openingToIn, jacks, kings, measuredPlyIn) => {
          const input = layoutInput({
            measuredPlyIn,
            supports: [support('left', { jacks, kings }), support('right', { jacks, kings })],
          });
          const layout = layOutOpening({ ...input, survey: { ...input.survey, openingFromIn, openingToIn } });
          layout.marks.forEach((mark, index) => {
            expect(mark.order).toBe(index + 1);
            expect(Math.abs(toSixteenth(mark.atIn) - mark.atIn)).toBeLessThanOrEqual(1 / 32 + 1e-12);
            if (index > 0) expect(mark.atIn).toBeGreaterThanOrEqual(layout.marks[index - 1]!.atIn);
          });
          // Mirror: both packs are as long as their plies, on opposite sides of the opening.
          const [left, right] = layout.packs;
          expect(openingFromIn - left!.fromIn).toBeCloseTo((jacks + kings) * measuredPlyIn, 9);
          expect(right!.toIn - openingToIn).toBeCloseTo((jacks + kings) * measuredPlyIn, 9);
        },
      ),
    );
  });

  it.each([
    ['measuredPlyIn', { measuredPlyIn: 3.5 }],
    ['supports.left', { supports: [support('left', { jacks: 6, kings: 4, size: '4x6' })] }],
    ['supports', { supports: [support('left'), support('left')] }],
    ['beam.bearingLeftIn', { beam: { ...beam, bearingLeftIn: 24 } }],
    ['supports.left.size', { supports: [support('left', { size: '2x7' })] }],
  ])('refuses nonsense at %s', (path, change) => {
    expect(() => layOutOpening(layoutInput(change))).toThrow(expect.objectContaining({ path }) as Error);
  });
});

describe('what is drawn', () => {
  const layout = layOutOpening(layoutInput());

  it('packs stand under the beam and touch it; pads lie centred under the jacks, which alone bring the load', () => {
    for (const piece of layout.pieces.filter((one) => one.kind === 'jack')) {
      expect(piece.topIn).toBe(layout.beam.undersideIn);
    }
    const pad = layout.pieces.find((piece) => piece.kind === 'pad')!;
    expect((pad.fromIn + pad.toIn) / 2).toBeCloseTo(20 - (3 * 1.55) / 2, 9);
    expect(at(layout, 'right.seat.middle').atIn).toBeCloseTo(150 + (3 * 1.55) / 2, 9);
  });

  it('fills the model that the report draws from', () => {
    const model: LayoutElevationModel = { id: 'layout', title: 'Layout', description: 'Marks', ...layout };
    expect(model.marks).toHaveLength(layout.marks.length);
  });
});

describe('lifting', () => {
  it('a 12 ft ply of 1 3/4 x 11 7/8 weighs about 73 lb at 42 pcf: two persons', () => {
    const [ply, whole] = beamLifts(beamOutline(beam.member, editions, 1.55), 144);
    expect(ply!.weightLb).toBeCloseTo(((1.75 * 11.875) / 144) * 12 * 42, 0);
    expect(ply!.how).toBe('two persons');
    expect(whole!.weightLb).toBeCloseTo(3 * ply!.weightLb, 9);
    expect(whole!.how).toBe('lift, hoist or jacks');
  });

  it('steps at the limits', () => {
    expect([51, 51.1, 100, 101, 200, 201].map(howToLift)).toEqual([
      'one person',
      'two persons',
      'two persons',
      'three or four persons',
      'three or four persons',
      'lift, hoist or jacks',
    ]);
  });

  it('outlines steel and flitch beams', () => {
    const steel = beamOutline({ kind: 'steel', shape: 'W8x18', fyKsi: 50 }, editions, 1.55);
    expect([steel.widthIn, steel.depthIn, steel.weightPlf]).toEqual([5.25, 8.14, 18]);
    const flitch = beamOutline(
      {
        kind: 'flitch',
        species: 'DF-L',
        grade: 'No.2',
        size: '2x12',
        woodPlies: 2,
        plateThicknessIn: 0.5,
        plateDepthIn: 11,
        plates: 1,
        boltDiameterIn: 0.5,
        boltSpacingIn: 16,
      },
      editions,
      1.55,
    );
    expect(flitch.widthIn).toBeCloseTo(3.6, 12);
    expect(flitch.pieces[1]!.weightPlf).toBeCloseTo((0.5 * 11 * 490) / 144, 9);
    expect(beamLifts(flitch, 120).map((lift) => lift.label)).toHaveLength(3);
  });
});
