import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFeetInches, formatInches, parseLength } from '../../../src/engineering/units/index.ts';

const inchesField = { bareNumber: 'inches' } as const;
const openField = { bareNumber: 'nothing' } as const;

describe('lengths as the trade writes them', () => {
  test.each([
    [`12'-6"`, 150],
    [`12' 6"`, 150],
    [`12'6"`, 150],
    [`12'6`, 150],
    [`12-6`, 150],
    [`12-6"`, 150],
    [`12 - 6`, 150],
    [`12-6 1/2`, 150.5],
    [`12-6-1/2`, 150.5],
    [`12-6.5`, 150.5],
    [`12' 6 1/2"`, 150.5],
    [`12'-6 1/2"`, 150.5],
    [`12'-6-1/2"`, 150.5],
    [`12'-6.5"`, 150.5],
    [`12'-0 1/2"`, 144.5],
    [`12'-1/2"`, 144.5],
    [`12' ½"`, 144.5],
    [`12.5'`, 150],
    [`.5'`, 6],
    [`150.5"`, 150.5],
    [`150.5 in.`, 150.5],
    [`6 1/2"`, 6.5],
    [`6-1/2"`, 6.5],
    [`6½"`, 6.5],
    [`8'`, 96],
    [`8 ft`, 96],
    [`8 feet 2 inches`, 98],
    [`8ft 1-1/8in`, 97.125],
    [`8FT. 1-1/8IN.`, 97.125],
    [`8'-1⅛"`, 97.125],
    [`8′-1⅛″`, 97.125],
    [`8’ 1⅛”`, 97.125],
    [`8’ 1⅛’’`, 97.125],
    [`8' 1''`, 97],
    [`8\u00a0ft 1\u20111/8 in`, 97.125],
    [`5/8`, 0.625],
    [`5\u20448"`, 0.625],
    [`⅝`, 0.625],
    [`0'-6"`, 6],
    [`0`, 0],
    [`150`, 150],
    [`6 1/2`, 6.5],
  ])('%s is %d in', (text, inches) => {
    expect(parseLength(text, inchesField)).toEqual({ inches });
  });

  test('12.6 is never taken for 12 ft 6 in: the reading comes back to be confirmed', () => {
    const reading = parseLength('12.6', inchesField);
    expect(reading).toMatchObject({ inches: 12.6 });
    expect(reading).toHaveProperty('confirm', expect.stringContaining(`1'-0 5/8"`));
    expect(reading).toHaveProperty('confirm', expect.stringContaining('not 12 ft 6 in'));
  });

  test('a number without a mark is sent back where the field does not say what it means', () => {
    expect(parseLength('12', openField)).toHaveProperty('problem', expect.stringContaining(`12' or 12"`));
    expect(parseLength('12.6', openField)).toHaveProperty('problem');
    // Nothing is nothing in either.
    expect(parseLength('0', openField)).toEqual({ inches: 0 });
    expect(parseLength('0.0', openField)).toHaveProperty('inches', 0);
    // A fraction of something can only be inches.
    expect(parseLength('6 1/2', openField)).toEqual({ inches: 6.5 });
  });

  test.each([
    ['', 'missing'],
    ['   ', 'missing'],
    ['-6"', 'without a sign'],
    ['+6"', 'without a sign'],
    ['12-1/2', `12'-0 1/2" or 12 1/2"`],
    [`12'-14"`, 'a foot or more'],
    ['12-14', 'a foot or more'],
    [`5' 12"`, 'a foot or more'],
    [`12.5' 6"`, 'decimal of feet'],
    ['12-6.5 1/2', 'decimal and a fraction'],
    ['1,200', 'comma'],
    ['12/6', 'not a fraction on a tape'],
    ['1/3"', 'not a fraction on a tape'],
    ['5/0', 'not a fraction on a tape'],
    ['6 9/8"', 'not less than one inch'],
    ['12-6-8', `can't be read`],
    [`6"12'`, `can't be read`],
    [`12'-`, `can't be read`],
    [`12''-6"`, `can't be read`],
    ['twelve', `can't be read`],
    ['1e309', `can't be read`],
    ['NaN', `can't be read`],
    ['12 6', `can't be read`],
    [`999999999'`, 'too long'],
    [`${'9'.repeat(61)}"`, 'too much text'],
  ])('%s is refused with a sentence', (text, part) => {
    const reading = parseLength(text, inchesField);
    expect(reading).toHaveProperty('problem', expect.stringContaining(part));
    expect(reading).not.toHaveProperty('inches');
  });
});

describe('lengths as they are shown', () => {
  test.each([
    [150.5, `12'-6 1/2"`, `150 1/2"`],
    [150, `12'-6"`, `150"`],
    [96, `8'-0"`, `96"`],
    [97.125, `8'-1 1/8"`, `97 1/8"`],
    [96.5, `8'-0 1/2"`, `96 1/2"`],
    [6.5, `6 1/2"`, `6 1/2"`],
    [0.625, `5/8"`, `5/8"`],
    [0, `0"`, `0"`],
    [11.99, `1'-0"`, `12"`],
    [-6.5, `-6 1/2"`, `-6 1/2"`],
    [-0.001, `0"`, `0"`],
  ])('%d in', (inches, feetInches, plain) => {
    expect(formatFeetInches(inches, { to: 16 })).toBe(feetInches);
    expect(formatInches(inches, { to: 16 })).toBe(plain);
  });

  test('a length that is not a number is refused', () => {
    expect(() => formatFeetInches(NaN, { to: 16 })).toThrow('finite');
    expect(() => formatInches(Infinity, { to: 16 })).toThrow('finite');
  });

  test('what is shown on the 1/16 grid reads back as the same length, in both forms', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 16 * 2400 }), (sixteenths) => {
        const inches = sixteenths / 16;
        expect(parseLength(formatFeetInches(inches, { to: 16 }), openField)).toEqual({ inches });
        expect(parseLength(formatInches(inches, { to: 16 }), openField)).toEqual({ inches });
      }),
    );
  });

  test('rounding for show never moves a length by more than half a mark', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2400, noNaN: true }), (inches) => {
        const shown = parseLength(formatFeetInches(inches, { to: 16 }), openField);
        expect(shown).toHaveProperty('inches');
        if ('inches' in shown) expect(Math.abs(shown.inches - inches)).toBeLessThanOrEqual(1 / 32);
      }),
    );
  });

  test('any text gets a reading or a sentence, never an exception and never nonsense', () => {
    const alphabet = fc.constantFrom(...`0123456789.'"-/ ½⅛′″ftin,e`.split(''));
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: alphabet, maxLength: 14 })), (text) => {
        const reading = parseLength(text, inchesField);
        if ('inches' in reading) {
          expect(Number.isFinite(reading.inches) && reading.inches >= 0).toBe(true);
        } else {
          expect(reading.problem).toMatch(/[.?]$/);
        }
      }),
      { numRuns: 2000 },
    );
  });
});
