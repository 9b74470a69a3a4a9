import { refuseUnless } from '../../trace/index.ts';
import type { Fastener } from '../dowels/fastener.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import type { Method } from '../dowels/penetration.ts';

export type Moisture = 'dry' | 'wet';

/** Moisture (over 19 percent is wet) when made and in use, temperature in use, °F. */
export interface ServiceConditions {
  readonly madeWhen: Moisture;
  readonly usedWhen: Moisture;
  readonly temperatureF: number;
}

export const DRY_INSIDE: ServiceConditions = { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 70 };

/** No connection may use a duration factor above this (NDS 11.3.2). */
export const HIGHEST_CONNECTION_DURATION_FACTOR = 1.6;

/** CD for connections. Refuses factors outside 0.9 to 2.0; caps impact at 1.6 (NDS 2.3.2, 11.3.2). */
export function connectionDurationFactor(durationFactor: number, path: string): number {
  refuseUnless(
    Number.isFinite(durationFactor) && durationFactor >= 0.9 && durationFactor <= 2,
    path,
    'The duration factor must lie between 0.9 (permanent) and 2.0 (impact) (NDS Table 2.3.2).',
  );
  return Math.min(durationFactor, HIGHEST_CONNECTION_DURATION_FACTOR);
}

/**
 * CM for lateral load (NDS Table 11.3.3). Made wet, used dry: 0.4, or 0.7 below 1/4 in, or 1.0 where the
 * fasteners can follow the shrinkage (one fastener, or one row along the grain). Used wet: 0.7.
 */
export function lateralWetFactor(
  conditions: ServiceConditions,
  diameterIn: number,
  followsShrinkage: boolean,
): number {
  if (conditions.usedWhen === 'wet') return 0.7;
  if (conditions.madeWhen === 'dry' || followsShrinkage) return 1;
  return diameterIn < 0.25 ? 0.7 : 0.4;
}

/**
 * CM for withdrawal (NDS Table 11.3.3): screws 0.7 used wet; plain nails 0.25 where moisture changes between
 * making and use, 1.0 where it does not.
 */
export function withdrawalWetFactor(conditions: ServiceConditions, fastener: Fastener): number {
  if (fastener.kind === 'nail') return conditions.madeWhen === conditions.usedWhen ? 1 : 0.25;
  return conditions.usedWhen === 'wet' ? 0.7 : 1;
}

/** Ct (NDS Table 11.3.4). Refuses sustained heat over 150 °F, which the table does not reach. */
export function temperatureFactor(conditions: ServiceConditions, path: string): number {
  const { temperatureF, usedWhen } = conditions;
  refuseUnless(
    Number.isFinite(temperatureF) && temperatureF <= 150,
    path,
    'Above 150 °F the standard gives no temperature factor (NDS Table 11.3.4).',
  );
  if (temperatureF <= 100) return 1;
  if (temperatureF <= 125) return usedWhen === 'dry' ? 0.8 : 0.7;
  return usedWhen === 'dry' ? 0.7 : 0.5;
}

/** Ceg lateral 0.67 in end grain (NDS 12.5.2.2); withdrawal 0.75 for lag screws only (12.5.2.1). */
export function endGrainFactor(method: Method, load: 'lateral' | 'withdrawal'): number {
  if (method !== 'end') return 1;
  return load === 'lateral' ? 0.67 : 0.75;
}

/** Ctn: 0.83 lateral, 0.67 withdrawal, toe-nails only (NDS 12.5.4). */
export function toeNailFactor(method: Method, load: 'lateral' | 'withdrawal'): number {
  if (method !== 'toe') return 1;
  return load === 'lateral' ? 0.83 : 0.67;
}

/** Cdi 1.1 for nails and wood screws of diaphragms (NDS 12.5.3). */
export function diaphragmFactor(fastener: Fastener, inDiaphragm: boolean): number {
  return inDiaphragm && (fastener.kind === 'nail' || fastener.kind === 'wood screw') ? 1.1 : 1;
}

/** Cg, CΔ and the grain directions concern fasteners from 1/4 in on (NDS 11.3.6.1, 12.5.1). */
export function isLargeDowel(fastener: Fastener): boolean {
  return dowelProperties(fastener).diameterIn >= 0.25;
}
