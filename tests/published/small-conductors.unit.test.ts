import { describe, expect, it } from 'vitest';
import {
  checkOvercurrent,
  largestBreaker,
  type ConductorOnBreaker,
} from '../../src/engineering/services/index.ts';

/**
 * NEC 240.4(D), read outside the project: a wire maker's size table ("the overcurrent protection shall not exceed 15
 * amperes for 14 AWG, 20 amperes for 12 AWG, and 30 amperes for 10 AWG copper; or 15 amperes for 12 AWG and 25 amperes
 * for 10 AWG aluminum and copper-clad aluminum") and an electrician's answer quoting (D)(3) to (D)(7).
 */
const published240: readonly [ConductorOnBreaker['conductor'], ConductorOnBreaker['awg'], number][] = [
  ['copper', '14', 15],
  ['copper', '12', 20],
  ['copper', '10', 30],
  ['aluminium', '12', 15],
  ['aluminium', '10', 25],
  ['copper-clad', '12', 15],
  ['copper-clad', '10', 25],
];

/**
 * NEC Table 310.16, 60 °C column, read in a public reprint of the 2023 table: [size, copper, aluminium]. The breaker
 * allowed is the next standard rating of 240.6(A): 55 → 60, 65 → 70, 75 → 80, 85 → 90, 95 → 100.
 */
const published310: readonly [ConductorOnBreaker['awg'], number, number][] = [
  ['8', 40, 35],
  ['6', 60, 40],
  ['4', 70, 60],
  ['3', 90, 70],
  ['2', 100, 80],
  ['1', 110, 90],
];

const check = (conductor: ConductorOnBreaker['conductor'], awg: ConductorOnBreaker['awg'], amps: number) =>
  checkOvercurrent('breaker', 'as found', { conductor, awg, amps });

describe('breaker against conductor', () => {
  it.each(published240)('%s %s AWG: %i A at most, as 240.4(D) is published', (metal, size, amps) => {
    expect(check(metal, size, amps)?.passes).toBe(true);
    expect(check(metal, size, amps + 1)?.passes).toBe(false);
    expect(check(metal, size, amps)?.clause).toMatchObject({ standard: 'NEC', section: '240.4(D)' });
  });

  it.each(published310)(
    '%s AWG: %i A on copper, %i A on aluminium, by Table 310.16',
    (size, copper, aluminium) => {
      expect(check('copper', size, copper)?.passes).toBe(true);
      expect(check('copper', size, copper + 1)?.passes).toBe(false);
      expect(check('aluminium', size, aluminium)?.passes).toBe(true);
      expect(check('aluminium', size, aluminium + 1)?.passes).toBe(false);
      expect(check('copper', size, copper)?.clause.section).toContain('310.16');
    },
  );

  it('finds the over-fused circuit of the house: 20 A on 12 AWG aluminium', () => {
    const found = check('aluminium', '12', 20);
    expect(found?.passes).toBe(false);
    expect(found?.sentence).toContain('more than the 15 A');
  });

  it('assumes nothing of a conductor that nobody read', () => {
    expect(check('not read', '12', 20)).toBeNull();
    expect(check('copper', 'not read', 20)).toBeNull();
  });

  it('has no 14 AWG aluminium, whatever the breaker', () => {
    expect(largestBreaker('aluminium', '14')).toBeNull();
    expect(check('aluminium', '14', 15)?.passes).toBe(false);
    expect(check('aluminium', '14', 1)?.sentence).toContain('read the jacket again');
  });

  it('refuses a breaker without a rating', () => {
    for (const amps of [0, -15, NaN, Infinity]) {
      expect(() => check('copper', '12', amps)).toThrow('must be more than zero');
    }
  });
});
