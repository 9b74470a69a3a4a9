import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { scenarios } from './table.ts';

describe('the table of scenarios', () => {
  it('has all twenty, each driven in a browser by a test that there is', () => {
    expect(scenarios.map(({ number }) => number)).toEqual(
      Array.from({ length: 20 }, (_, index) => index + 1),
    );
    const missing = scenarios.flatMap(({ number, drivenBy }) =>
      drivenBy
        .filter(
          ([file, test]) =>
            !file.endsWith('.browser.test.ts') || !readFileSync(file, 'utf8').includes(`it('${test}'`),
        )
        .map(([file, test]) => `${number}: ${file}: ${test}`),
    );
    expect(missing).toEqual([]);
    expect(scenarios.every(({ drivenBy }) => drivenBy.length > 0)).toBe(true);
  });
});
