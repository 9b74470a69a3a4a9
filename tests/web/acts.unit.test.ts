import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { templateFolder } from '../../src/web/plugins/views.ts';

/**
 * Every act that ends, closes, freezes or takes away, by the words on its button: whether the page asks before it, or
 * how it is taken back. What only adds (a version, a photo, an answer) is superseded by a further one and not listed.
 */
const acts: Readonly<Record<string, { readonly asks: true } | { readonly undo: string }>> = {
  'Issue set': { asks: true },
  'Withdraw the approval': { asks: true },
  'Close the question': { asks: true },
  'Close the visit': { asks: true },
  'End this visit with set': { asks: true },
  'Go on with set': { undo: 'Close the visit' },
  'Accept: ': { asks: true },
  'Set it aside': { asks: true },
  'Throw the draft away': { asks: true },
  'Take it back': { asks: true },
  'It went back to the yard': { asks: true },
  'Entered wrongly': { asks: true },
  'Take it off the list': { asks: true },
  'It has left the house': { asks: true },
  Withdraw: { asks: true },
  'Take ': { asks: true },
  'Take back the link for': { asks: true },
  'Sign out everywhere': { asks: true },
  'End the chosen sessions': { asks: true },
  'End all others': { asks: true },
  'Switch off codes': { asks: true },
  'Revoke ': { asks: true },
  'End this webhook': { asks: true },
  'End the address': { asks: true },
  'Make another address': { asks: true },
  'Switch off': { undo: 'Switch on' },
  'Hide from the owner': { undo: 'Show to the owner' },
  'Take out ': { undo: 'Add: ' },
  'Log it': { undo: 'Take it back' },
  'Take it off': { asks: true },
};

/** Words by which an act is one of those that take something away. */
const TAKES =
  /^(?:Issue|Withdraw|Close|End |Set it aside|Throw|Take |Revoke|Switch off|Hide|Sign out everywhere|It went|Entered)/;

interface Button {
  readonly file: string;
  readonly words: string;
  readonly source: string;
}

/** Calls of the button macros with the words they begin with. */
const buttons: readonly Button[] = readdirSync(templateFolder, { recursive: true, encoding: 'utf8' })
  .filter(
    (file) =>
      file.endsWith('.njk') && file !== 'components.njk' && file !== path.join('parts', 'buttons.njk'),
  )
  .flatMap((file) => {
    const source = readFileSync(path.join(templateFolder, file), 'utf8');
    return [...source.matchAll(/(?:postButton|button)\('([^']+)'/g)].map(
      ({ 0: call, 1: words = '', index }) => {
        const rest = source.slice(index + call.length);
        // Up to the end of this call: the next one on the line has its own.
        return { file, words, source: rest.slice(0, rest.search(/(?:postButton|button)\(|\n|$/)) };
      },
    );
  });

const templates = [...new Set(buttons.map(({ file }) => file))].map((file) =>
  readFileSync(path.join(templateFolder, file), 'utf8'),
);

const called = (name: string) =>
  buttons.filter(({ words }) => (name.endsWith(' ') ? words === name : words.trim() === name));

describe('acts that take something away', () => {
  it('are all in the table', () => {
    const unknown = buttons.filter(
      ({ words }) => TAKES.test(words) && acts[words] === undefined && acts[words.trim()] === undefined,
    );
    expect(unknown.map(({ file, words }) => `${file}: ${words}`)).toEqual([]);
  });

  it.each(Object.entries(acts))('“%s” asks before, or says how it is taken back', (name, act) => {
    const all = buttons.some(({ words }) => words.startsWith(name));
    expect(all, 'there is such a button').toBe(true);
    if ('asks' in act) {
      for (const { file, source } of called(name)) {
        expect({ file, asks: source.includes('confirm=') }).toEqual({ file, asks: true });
      }
    } else {
      expect(templates.some((source) => source.includes(`'${act.undo}`))).toBe(true);
    }
  });
});
