import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { temporaryReactions } from '../../../src/engineering/shoring/index.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';

describe('joists on temporary walls', () => {
  it('lapped: w l² ÷ 2(l − a); 144 in span, 24 in offset is 86.4 in, against 72 in on the old wall', () => {
    const { front, rear } = temporaryReactions(
      { frontSpanIn: 144, rearSpanIn: 168, overWall: 'lapped' },
      24,
      'both',
    );
    expect(front.front).toBeCloseTo(86.4, 9);
    expect(rear.rear).toBeCloseTo(168 ** 2 / (2 * 144), 9);
    expect(front.rear).toBe(0);
    // Half of a load on the old wall line comes to each joist end, magnified by the overhang.
    expect(front.standing).toBeCloseTo(0.5 * (144 / 120), 9);
  });

  it('continuous, both sides: symmetrical case by the force method', () => {
    // Two equal spans l whose middle support gives way to two at a to either side. By symmetry the middle does not
    // turn and half the beam is enough. Far reaction F unknown, temporary wall l − F; the far end may not move
    // against the wall: ∫ M·m dx = 0 with M = F·m − x²/2 + l·<x − b>, m = x − <x − b>.
    const l = 150;
    const a = 30;
    const b = l - a;
    const slices = 60_000;
    const h = l / slices;
    let withLoad = 0;
    let withUnit = 0;
    for (let i = 0; i < slices; i += 1) {
      const x = (i + 0.5) * h;
      const past = Math.max(0, x - b);
      const m = x - past;
      const load = -(x ** 2) / 2 + l * past;
      withLoad += load * m * h;
      withUnit += m * m * h;
    }
    const far = -withLoad / withUnit;
    const { front } = temporaryReactions(
      { frontSpanIn: l, rearSpanIn: l, overWall: 'continuous' },
      a,
      'both',
    );
    expect(front.front + front.rear).toBeCloseTo(l - far, 4);
  });

  it('everything comes down: reactions and far ends balance the load on either side', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 60, max: 240, noNaN: true }),
        fc.double({ min: 60, max: 240, noNaN: true }),
        fc.double({ min: 6, max: 28, noNaN: true }),
        (frontSpanIn, rearSpanIn, offset) => {
          const { front, rear } = temporaryReactions(
            { frontSpanIn, rearSpanIn, overWall: 'continuous' },
            offset,
            'both',
          );
          const mirrored = temporaryReactions(
            { frontSpanIn: rearSpanIn, rearSpanIn: frontSpanIn, overWall: 'continuous' },
            offset,
            'both',
          );
          // Moments about the far front end: wall line load 1 lb at l.
          expect(mirrored.front.front).toBeCloseTo(rear.rear, 6);
          expect(mirrored.rear.standing).toBeCloseTo(front.standing, 6);
          // A load between two stiff, close supports goes to them, and the far ends lift a little.
          expect(front.standing + rear.standing).toBeGreaterThan(1);
        },
      ),
    );
  });

  it('is never less than the old wall carried, and grows with the offset', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 48, max: 300, noNaN: true }),
        fc.double({ min: 0.01, max: 0.24, noNaN: true }),
        (span, part) => {
          const at = (offset: number) =>
            temporaryReactions({ frontSpanIn: span, rearSpanIn: 0, overWall: 'lapped' }, offset, 'front')
              .front.front;
          return at(part * span) > span / 2 && at(2 * part * span) > at(part * span);
        },
      ),
    );
  });

  it('one side only works for joists that run on; ending ones are refused', () => {
    const on = temporaryReactions({ frontSpanIn: 120, rearSpanIn: 120, overWall: 'continuous' }, 24, 'front');
    expect(on.rear).toEqual({ front: 0, rear: 0, standing: 0 });
    expect(on.front.front + on.front.rear).toBeGreaterThan(120);
    expect(() =>
      temporaryReactions({ frontSpanIn: 120, rearSpanIn: 120, overWall: 'lapped' }, 24, 'front'),
    ).toThrow(expect.objectContaining({ path: 'sides' }) as Error);
  });

  it.each([
    ['half the span', { frontSpanIn: 40, rearSpanIn: 0, overWall: 'lapped' as const }, 20],
    ['a negative offset', { frontSpanIn: 120, rearSpanIn: 0, overWall: 'lapped' as const }, -1],
    ['no number', { frontSpanIn: 120, rearSpanIn: Number.NaN, overWall: 'lapped' as const }, 12],
  ])('refuses %s', (_, joists, offset) => {
    expect(() => temporaryReactions(joists, offset, 'both')).toThrow(Refusal);
  });
});
