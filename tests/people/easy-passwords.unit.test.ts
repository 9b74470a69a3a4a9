import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isEasyPassword } from '../../src/people/accounts/easy-passwords.ts';
import {
  isMuchUsedPassword,
  MUCH_USED_PASSWORDS,
  RECORD_BYTES,
} from '../../src/people/accounts/much-used-passwords.ts';

/** What published lists of much-used passwords hold of twelve signs and more. */
describe('easy passwords', () => {
  it.each([
    [
      'figures, keys and the alphabet in a row',
      '123456789012 1234qwerasdf qwertyuiop12 abcdefghijkl 987654321098',
    ],
    ['a keypad in columns and doubled', '147258369147 741852963741 112233445566 123654789632'],
    ['two rows in turn', '1q2w3e4r5t6y q1w2e3r4t5y6 a1b2c3d4e5f6 1a2b3c4d5e6f'],
    ['the same again', 'hammerhammer abc123abc123 111111111111 passwordpassword'],
    [
      'one common word with figures',
      'butterfly123 strawberry12 chocolate2026 jonathan1234 Sunflower!2026 michelle0000',
    ],
    ['two common words', 'iloveyouforever merrychristmas happybirthday1 goodmorning12 manchesterunited'],
    ['letters as figures', 'p4ssw0rd1234 butt3rfly123 dr4g0ndr4gon'],
  ])('%s are refused', (_, passwords) => {
    expect(passwords.split(' ').filter((password) => !isEasyPassword(password))).toEqual([]);
  });

  it('breached ones are refused that no rule would know, in large letters or small', () => {
    // From the first, the middle and the last thousand of the list of which the file was made.
    const breached = ['ghhh47hj7649', 'ghjcnjgfhjkm', 'GHJCNJGFHJKM', 'fyutkbyf2005', 'zbktitymrf809'];
    expect(breached.filter((password) => !isEasyPassword(password))).toEqual([]);
    expect(isMuchUsedPassword('ghhh47hj7640')).toBe(false);
  });

  it('the list holds more than the 3,000 most used, each once and in order', () => {
    const file = readFileSync(MUCH_USED_PASSWORDS);
    const records = Array.from({ length: file.length / RECORD_BYTES }, (_, place) =>
      file.toString('hex', place * RECORD_BYTES, (place + 1) * RECORD_BYTES),
    );
    expect(records.length).toBe(43_940);
    expect(records).toEqual([...new Set(records)].sort());
  });

  it('some words that have nothing to do with each other are taken, and what no rule explains', () => {
    const fine = [
      'purple river tomorrow nail',
      'mountain orange tuesday',
      'rain gauge under porch',
      'k7vq2mxa9w1z',
    ];
    expect(fine.filter((password) => isEasyPassword(password))).toEqual([]);
  });

  it('a person’s own name and address are easy for that person alone', () => {
    const own = ['Tolliver Graves', 'tg@example.org'];
    expect(isEasyPassword('tollivergraves12')).toBe(false);
    expect(isEasyPassword('tollivergraves12', own)).toBe(true);
  });
});
