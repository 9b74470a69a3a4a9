import { expect, it } from 'vitest';
import { demoRows } from '../../../src/demo/cinder-ferry.ts';
import { patternWords } from '../../../src/record/kinds/fastening/kind.ts';

it('counts fasteners by their name', () => {
  const row = demoRows[0]!.content;
  const pattern = {
    kind: 'count',
    count: 8,
    rows: 2,
    spacingIn: 2,
    rowSpacingIn: 2,
    staggered: false,
  } as const;
  expect(patternWords({ ...row, pattern })).toBe('8 nails in the joint, 2 rows');
  expect(patternWords({ ...row, pattern: { ...pattern, count: 1, rows: 1 } })).toBe(
    '1 nail in the joint, 1 row',
  );
  const bolt = { kind: 'bolt', diameterIn: 0.5, lengthIn: 6 } as const;
  expect(patternWords({ pattern, fastener: bolt })).toBe('8 bolts in the joint, 2 rows');
});
