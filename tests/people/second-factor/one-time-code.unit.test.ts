import { describe, expect, it } from 'vitest';
import { fromBase32, toBase32 } from '../../../src/people/second-factor/base32.ts';
import { codeOf, setupAddress, stepAt, stepOfCode } from '../../../src/people/second-factor/one-time-code.ts';
import { makeRecoveryCodes, recoveryCodeHash } from '../../../src/people/second-factor/recovery-codes.ts';

/** The secret of both RFCs' test values. */
const key = Buffer.from('12345678901234567890', 'ascii');
const at = (seconds: number) => new Date(seconds * 1000);

describe('one-time codes', () => {
  it('are those of RFC 4226 appendix D', () => {
    // Its ten values; seen as other test suites and a question about the RFC quote them, not in the RFC itself.
    const published = '755224 287082 359152 969429 338314 254676 287922 162583 399871 520489'.split(' ');
    expect(published.map((_, counter) => codeOf(key, counter))).toEqual(published);
  });

  // Its six rows for SHA-1, eight figures; seen as three other test suites quote them, not in the RFC itself.
  it.each([
    [59, '94287082'],
    [1_111_111_109, '07081804'],
    [1_111_111_111, '14050471'],
    [1_234_567_890, '89005924'],
    [2_000_000_000, '69279037'],
    [20_000_000_000, '65353130'],
  ])('at %i s are those of RFC 6238 appendix B', (seconds, published) => {
    expect(codeOf(key, stepAt(at(seconds)), 8)).toBe(published);
    expect(codeOf(key, stepAt(at(seconds)))).toBe(published.slice(2));
  });

  it('count in their own 30 seconds, from the first to the last, and in no other', () => {
    const now = at(1_234_567_890);
    const step = stepAt(now);
    const first = step * 30;
    for (const second of [first, first + 29.999]) {
      expect(stepOfCode(key, codeOf(key, step), at(second), null)).toBe(step);
    }
    for (const second of [first - 0.001, first + 30]) {
      expect(stepOfCode(key, codeOf(key, step), at(second), null)).toBeNull();
    }
    for (const wrong of ['', '12345', '1234567', '00592', 'abcdef', '００５９２４']) {
      expect(stepOfCode(key, wrong, now, null)).toBeNull();
    }
  });

  it('are worth nothing once they, or later ones, were used', () => {
    const now = at(1_234_567_890);
    const step = stepAt(now);
    expect(stepOfCode(key, codeOf(key, step), now, step)).toBeNull();
    expect(stepOfCode(key, codeOf(key, step), now, step + 1)).toBeNull();
    expect(stepOfCode(key, codeOf(key, step), now, step - 1)).toBe(step);
  });

  it('are set up by an address that says everything a program needs', () => {
    const url = new URL(setupAddress('Lintelbook localhost:3000', 'k.o@example.org', toBase32(key)));
    expect([url.protocol, url.host]).toEqual(['otpauth:', 'totp']);
    expect(decodeURIComponent(url.pathname)).toBe('/Lintelbook localhost:3000:k.o@example.org');
    expect(Object.fromEntries(url.searchParams)).toEqual({
      secret: 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ',
      issuer: 'Lintelbook localhost:3000',
      algorithm: 'SHA1',
      digits: '6',
      period: '30',
    });
    expect(url.search).not.toContain('+');
  });
});

describe('base32', () => {
  // RFC 4648 section 10, without its padding; from memory.
  it.each([
    ['', ''],
    ['f', 'MY'],
    ['fo', 'MZXQ'],
    ['foo', 'MZXW6'],
    ['foob', 'MZXW6YQ'],
    ['fooba', 'MZXW6YTB'],
    ['foobar', 'MZXW6YTBOI'],
  ])('of %j is %j, and back', (text, encoded) => {
    expect(toBase32(Buffer.from(text))).toBe(encoded);
    expect(fromBase32(encoded).toString()).toBe(text);
  });

  it('goes there and back for every byte, and refuses what is none of it', () => {
    const bytes = Buffer.from(Array.from({ length: 256 }, (_, byte) => byte));
    expect(fromBase32(toBase32(bytes)).equals(bytes)).toBe(true);
    for (const text of ['a', 'A1', 'MY======', 'M Y']) expect(() => fromBase32(text)).toThrow(RangeError);
  });
});

describe('recovery codes', () => {
  it('are ten, each of 140 bits in seven groups of four', () => {
    const codes = makeRecoveryCodes();
    expect(new Set([...codes, ...makeRecoveryCodes()]).size).toBe(20);
    expect(codes).toHaveLength(10);
    for (const code of codes) expect(code).toMatch(/^[A-Z2-7]{4}(-[A-Z2-7]{4}){6}$/);
  });

  it('are the same however they are typed, and no other', () => {
    const hash = recoveryCodeHash('ABIO-2345-ABCD-EFGH-IJKL-MNOP-QRST');
    expect(recoveryCodeHash(' abio 2345 abcd efgh ijkl mnop qrst ')).toBe(hash);
    expect(recoveryCodeHash('A810-2345-ABCD-EFGH-IJKL-MNOP-QRST')).toBe(hash);
    expect(recoveryCodeHash('ABIO-2345-ABCD-EFGH-IJKL-MNOP-QRSU')).not.toBe(hash);
    expect(hash).toMatch(/^[0-9a-f]{64}$/);
  });
});
