import { expect, it } from 'vitest';
import { keyWords } from '../../../src/record/schedule/proposal-routes.ts';

it('names rows that follow one another by the first and the last', () => {
  expect(keyWords(['N1', 'N2', 'N3'])).toBe('N1 to N3');
  expect(keyWords(['N9', 'N10'])).toBe('N9, N10');
  expect(keyWords(['N1', 'N2', 'N4'])).toBe('N1, N2, N4');
  expect(keyWords(['N1', 'brace', 'N3'])).toBe('N1, brace, N3');
});
