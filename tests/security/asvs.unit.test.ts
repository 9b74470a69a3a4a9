import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chapters } from './asvs/all.ts';

/**
 * Numbers of the requirements of level 1 and of level 2 in each section, counted in the standard's own list
 * (OWASP ASVS 5.0.0, English, CSV): 70 of level 1 and 183 of level 2.
 */
const inStandard: readonly Readonly<Record<string, readonly [level1: number, level2: number]>>[] = [
  { '1.1': [0, 2], '1.2': [5, 4], '1.3': [2, 9], '1.4': [0, 3], '1.5': [1, 1] },
  { '2.1': [1, 2], '2.2': [2, 1], '2.3': [1, 3], '2.4': [0, 1] },
  { '3.2': [2, 0], '3.3': [1, 3], '3.4': [2, 4], '3.5': [3, 2], '3.7': [0, 2] },
  { '4.1': [1, 2], '4.2': [0, 1], '4.3': [0, 2], '4.4': [1, 3] },
  { '5.1': [0, 1], '5.2': [2, 1], '5.3': [2, 0], '5.4': [0, 3] },
  { '6.1': [1, 2], '6.2': [8, 4], '6.3': [2, 2], '6.4': [2, 2], '6.5': [0, 5], '6.6': [0, 3], '6.8': [0, 4] },
  { '7.1': [0, 3], '7.2': [4, 0], '7.3': [0, 2], '7.4': [2, 3], '7.5': [0, 2], '7.6': [0, 2] },
  { '8.1': [1, 1], '8.2': [2, 1], '8.3': [1, 0], '8.4': [0, 1] },
  { '9.1': [3, 0], '9.2': [1, 3] },
  {
    '10.1': [0, 2],
    '10.2': [0, 2],
    '10.3': [0, 4],
    '10.4': [5, 6],
    '10.5': [0, 5],
    '10.6': [0, 2],
    '10.7': [0, 3],
  },
  { '11.1': [0, 2], '11.2': [0, 3], '11.3': [2, 1], '11.4': [1, 3], '11.5': [0, 1], '11.6': [0, 1] },
  { '12.1': [1, 2], '12.2': [2, 0], '12.3': [0, 4] },
  { '13.1': [0, 1], '13.2': [0, 5], '13.3': [0, 2], '13.4': [1, 4] },
  { '14.1': [0, 2], '14.2': [1, 3], '14.3': [1, 2] },
  { '15.1': [1, 2], '15.2': [1, 2], '15.3': [1, 6] },
  { '16.1': [0, 1], '16.2': [0, 5], '16.3': [0, 4], '16.4': [0, 3], '16.5': [0, 3] },
  { '17.1': [0, 1], '17.2': [0, 4], '17.3': [0, 2] },
];

const all = chapters.flat();

describe('the table of the verification standard', () => {
  it('has every requirement of levels 1 and 2, section by section, once', () => {
    const counted = chapters.map((chapter) => {
      const sections: Record<string, [number, number]> = {};
      for (const { number, level } of chapter) {
        const section = number.split('.').slice(0, 2).join('.');
        const [one, two] = sections[section] ?? [0, 0];
        sections[section] = level === 1 ? [one + 1, two] : [one, two + 1];
      }
      return sections;
    });
    expect(counted).toEqual(inStandard);
    expect(new Set(all.map(({ number }) => number)).size).toBe(all.length);
    expect([1, 2].map((level) => all.filter((one) => one.level === level).length)).toEqual([70, 183]);
  });

  it('names only tests that there are', () => {
    const missing = all.flatMap(({ number, answer }) =>
      answer.is === 'tested'
        ? answer.by
            .filter(({ file, test }) => !holdsTest(file, test))
            .map(({ file, test }) => `${number}: ${file}: ${test}`)
        : [],
    );
    expect(missing).toEqual([]);
    expect(holdsTest('tests/security/asvs.unit.test.ts', 'is nowhere')).toBe(false);
  });

  it('names only words that stand where it says', () => {
    const missing = all.flatMap(({ number, answer }) =>
      answer.is === 'written' &&
      !readFileSync(answer.file, 'utf8').replace(/\s+/g, ' ').includes(answer.words)
        ? [`${number}: ${answer.file}: ${answer.words}`]
        : [],
    );
    expect(missing).toEqual([]);
  });

  it('says the gaps in README.md', () => {
    const readme = readFileSync('README.md', 'utf8').replace(/\s+/g, ' ');
    const gaps = all.flatMap(({ number, answer }) => (answer.is === 'open' ? [number] : []));
    expect(readme).toContain(`Not met or met in part: ${gaps.join(', ')}.`);
  });
});

function holdsTest(file: string, test: string): boolean {
  if (!existsSync(file)) return false;
  const source = readFileSync(file, 'utf8');
  return [`'${test}'`, `\`${test}\``].some((quoted) =>
    source
      .split(quoted)
      .slice(0, -1)
      .some((before) => /(?:\bit|\btest)(?:\.each\([^;]*\))?\(\s*$/.test(before)),
  );
}
