import { expect, it } from 'vitest';
import { reckoningWords } from '../../src/site/materials/words.ts';

it('says what is counted, in the plural where there are several', () => {
  const nail = { kind: 'nail', style: 'common', diameterIn: 0.131, lengthIn: 2.5 } as const;
  const bolt = { kind: 'screw or bolt', what: 'bolt', diameterIn: 0.5, lengthIn: 6 } as const;
  const words = (goods: typeof nail | typeof bolt, reckoning: string) =>
    reckoningWords({ goods, reckoning: [reckoning] })[0];
  expect(words(nail, 'N4: 4 in the pattern × 2 ends')).toBe('N4: 4 nails in the pattern × 2 ends');
  expect(words(nail, 'N1: 22 in the pattern × 2 faces between plies')).toBe(
    'N1: 22 nails in the pattern × 2 faces between plies',
  );
  expect(words(nail, 'front: 10 a hanger × 9 hangers')).toBe('front: 10 nails a hanger × 9 hangers');
  expect(words(bolt, 'N2: 1 in the pattern')).toBe('N2: 1 bolt in the pattern');
  const hanger = { kind: 'hanger', joistSize: '2x10', listing: 'Report 1' } as const;
  expect(reckoningWords({ goods: hanger, reckoning: ['rear: joists at 16 in along the beam'] })).toEqual([
    'rear: joists at 16 in along the beam',
  ]);
});
