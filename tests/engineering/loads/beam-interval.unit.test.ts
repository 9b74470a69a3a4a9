import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  kindsPresent,
  loadsOnBeam,
  selfWeight,
  takeOffLoads,
  type Load,
  type LoadKind,
} from '../../../src/engineering/loads/index.ts';
import { criteria, survey } from './cinder-ferry.ts';
import { refusalOf } from './refusal-of.ts';

describe('at the ends of the beam', () => {
  const takeOff = takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' });
  const beam = { fromIn: 45, toIn: 137 };
  const split = loadsOnBeam(takeOff.loads, beam);

  test('a point just outside stays on the wall, one exactly at the end is the beam’s', () => {
    const places = split.loads.flatMap((load) => (load.form === 'point' ? [load.positionIn] : []));
    expect(new Set(places)).toEqual(new Set([44, 92]));
    const beside = split.besideBeam.flatMap((load) => (load.form === 'point' ? [load.positionIn] : []));
    expect(new Set(beside)).toEqual(new Set([41]));
    expect(split.notices.map((notice) => notice.id)).toEqual([
      'brace-front-1.beside-beam',
      'brace-rear-1.beside-beam',
    ]);
    expect(split.notices[0]!.text).toContain(`3'-5"`);
  });

  test('nothing is lost and nothing is doubled: beam and rest add up to the wall', () => {
    const total = (loads: readonly Load[], kind: LoadKind): number =>
      loads
        .filter((load) => load.kind === kind)
        .reduce(
          (sum, load) =>
            sum + (load.form === 'point' ? load.loadLb : (load.loadPlf * (load.toIn - load.fromIn)) / 12),
          0,
        );
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 160 }), fc.integer({ min: 1, max: 170 }), (fromIn, lengthIn) => {
        const part = loadsOnBeam(takeOff.loads, { fromIn, toIn: fromIn + lengthIn });
        for (const kind of kindsPresent(takeOff.loads)) {
          expect(total(part.loads, kind) + total(part.besideBeam, kind)).toBeCloseTo(
            total(takeOff.loads, kind),
            6,
          );
        }
        for (const load of part.loads) {
          if (load.form === 'line') {
            expect(load.fromIn).toBeGreaterThanOrEqual(0);
            expect(load.toIn).toBeLessThanOrEqual(lengthIn);
          }
        }
      }),
    );
  });

  test('a beam without length is refused', () => {
    expect(refusalOf(() => loadsOnBeam([], { fromIn: 5, toIn: 5 })).path).toBe('beam.toIn');
    expect(refusalOf(() => loadsOnBeam([], { fromIn: -1, toIn: 5 })).path).toBe('beam.fromIn');
    expect(refusalOf(() => selfWeight(NaN, 5)).path).toBe('member.weightPlf');
  });

  test('self-weight lies over the whole beam', () => {
    expect(selfWeight(18, 92)).toMatchObject({ kind: 'D', fromIn: 0, toIn: 92, loadPlf: 18 });
  });
});
