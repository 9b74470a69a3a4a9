import { expect } from 'vitest';
import type { BeamLoad, BeamModel, BeamSupport, Section } from '../../../../src/engineering/statics/index.ts';

/** Closed forms of mechanics, with numbers small enough to check by hand: L = 120 in, EI = 1e6 lb-in². */
export const pin = (atIn: number, settlementIn = 0): BeamSupport => ({ atIn, kind: 'pin', settlementIn });
export const fixed = (atIn: number, settlementIn = 0): BeamSupport => ({ atIn, kind: 'fixed', settlementIn });
export const EI = 1e6;
export const L = 120;
export const model = (supports: readonly BeamSupport[], more: Partial<BeamModel> = {}): BeamModel => ({
  lengthIn: L,
  ei: EI,
  supports,
  ...more,
});
export const SIMPLE = model([pin(0), pin(L)]);
export const UNIFORM: BeamLoad = { kind: 'uniform', loadLbPerIn: 10 };
export const point = (atIn: number, loadLb: number): BeamLoad => ({ kind: 'point', atIn, loadLb });
export const couple = (atIn: number, coupleLbIn: number): BeamLoad => ({ kind: 'couple', atIn, coupleLbIn });

export function close(actual: number, expected: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(Math.abs(expected), 1e-3),
  );
}

export function section(
  actual: Section,
  shear: number,
  moment: number,
  slope: number,
  deflection: number,
): void {
  close(actual.shearLb, shear);
  close(actual.momentLbIn, moment);
  close(actual.slopeRad, slope);
  close(actual.deflectionIn, deflection);
}
