import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseLength } from '../../src/engineering/units/index.ts';

/** The browser's module; plain script, so it is imported by address and its one function named here. */
const { readLength } = (await import(
  new URL('../../src/web/assets/length-reading.js', import.meta.url).href
)) as { readLength: (written: string) => number | undefined };

function serverReading(text: string): number | undefined {
  const reading = parseLength(text, { bareNumber: 'inches' });
  return 'problem' in reading ? undefined : reading.inches;
}

describe('length read back in the browser', () => {
  it.each([
    [`12'-6"`, 150],
    [`12'-6 1/2"`, 150.5],
    [`12' 6 1/2"`, 150.5],
    [`12-6`, 150],
    [`12-6 1/2`, 150.5],
    [`150.5"`, 150.5],
    [`8′-1 1/8″`, 97.125],
    [`3/4"`, 0.75],
    [`12'`, 144],
  ])('%s is %d in, here as on the server', (text, inches) => {
    expect(readLength(text)).toBe(inches);
    expect(serverReading(text)).toBe(inches);
  });

  it.each(['12.6', '12', '', 'a foot', `12'-13"`, `12'-6 9/8"`, `1/3"`, `-12'`, '12-1/2', `12'6'`])(
    'says nothing about %j',
    (text) => {
      expect(readLength(text)).toBeUndefined();
    },
  );

  it('never says another figure than the server', () => {
    const piece = fc.constantFrom(
      '0',
      '1',
      '6',
      '12',
      '150',
      '.',
      '/',
      '-',
      ' ',
      "'",
      '"',
      '1/2',
      '5/16',
      '9/8',
      '′',
      '″',
    );
    const text = fc.array(piece, { maxLength: 8 }).map((parts) => parts.join(''));
    fc.assert(
      fc.property(text, (written) => {
        const inches = readLength(written);
        if (inches !== undefined)
          expect({ written, inches }).toEqual({ written, inches: serverReading(written) });
      }),
      { numRuns: 20_000 },
    );
  });
});
