import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { attacksOn } from './expressions/attacks.ts';
import { goesBackMore } from './expressions/backtracks.ts';
import { collectExpressions, expressionsOf, type Expression } from './expressions/collect.ts';

/**
 * Text that makes a regular expression try again and again (CWE-1333). Counted are the steps back that V8's matcher
 * itself counts, never time. At this length, work that grows as the square comes to 12,800 steps and more, and work
 * that grows with the length to a few hundred.
 */
const LENGTH = 160;
const STEPS = 25 * LENGTH;

/** The first text, of those made from the expression itself, over which it works too long. */
function attackThatWorks(expression: Expression): string | null {
  const tooOften = goesBackMore(expression, STEPS);
  for (const text of attacksOn(expression, LENGTH)) if (tooOften(text)) return text;
  return null;
}

const written = (source: string, flags = ''): Expression => ({ file: 'here', source, flags });

describe('regular expressions', () => {
  it('work no longer than their text is long, whatever is typed', () => {
    const ours = collectExpressions('src');
    expect(ours.length).toBeGreaterThan(200);
    const different = new Map(ours.map((one) => [`/${one.source}/${one.flags}`, one]));
    const bad = [...different].flatMap(([words, one]) => {
      const text = attackThatWorks(one);
      return text === null ? [] : [`${one.file}: ${words} over ${JSON.stringify(text)}`];
    });
    expect(bad).toEqual([]);
  });

  it('that judge addresses and identifiers for us do neither', () => {
    const theirs = [z.regexes.email, z.regexes.uuid(), z.regexes.hostname];
    const bad = theirs.filter(({ source, flags }) => attackThatWorks(written(source, flags)) !== null);
    expect(bad).toEqual([]);
  });

  it('that work too long are found', () => {
    // Of two repetitions that can share a sign in more than one way; by choice; one behind another; from each start.
    const known = ['^(a+)+$', '(x+x+)+y', '^(?:a|a)*$', '^data:(?:a|aa)+$', '^a*a*$', String.raw`\s+$`];
    const alsoKnown = [String.raw`^(?:\d+\.?\d*|\.\d+)$`, String.raw`\p{L}\S*\s+\S*\p{L}`, '(?<=x)-+;|-+$'];
    const found = [...known, ...alsoKnown].filter((source) => attackThatWorks(written(source, 'u')) !== null);
    expect(found).toEqual([...known, ...alsoKnown]);
  });

  it('that work no longer than they must are let pass', () => {
    const harmless = [
      '^a*b$',
      String.raw`^(?:\d+(?:\.\d*)?|\.\d+)$`,
      String.raw`(?<!\s)\s+$`,
      '^(?:ab|cd)+$',
    ];
    expect(harmless.filter((source) => attackThatWorks(written(source)) !== null)).toEqual([]);
  });

  it('are collected wherever they stand, with what they are made of', () => {
    const text = [
      'const DIGITS = String.raw`\\d+`;',
      'const MADE = new RegExp(String.raw`^${DIGITS}/$`, "u");',
      'export const one = (s) => /[/]a\\/b/gi.test(s) || MADE.test(s);',
    ].join('\n');
    expect(expressionsOf('a.ts', text).map(({ source, flags }) => [source, flags])).toEqual([
      [String.raw`^\d+/$`, 'u'],
      [String.raw`[/]a\/b`, 'gi'],
    ]);
    expect(() => expressionsOf('a.ts', 'export const make = (word) => new RegExp(word);')).toThrow('word');
  });
});
