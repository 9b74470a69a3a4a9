import { allowableStressCombinations } from '../../loads/combinations.ts';
import { LOAD_KINDS, type LoadKind } from '../../loads/load.ts';
import type { Editions } from '../../trace/index.ts';

export type LoadParts = Readonly<Partial<Record<LoadKind, number>>>;

export interface GoverningLoad {
  readonly value: number;
  readonly combination: string;
  readonly durationFactor: number;
  readonly factors: Readonly<Record<LoadKind, number>>;
}

function sum(parts: LoadParts, factors: Readonly<Record<LoadKind, number>>): number {
  return LOAD_KINDS.reduce((total, kind) => total + (parts[kind] ?? 0) * factors[kind], 0);
}

/**
 * The combination that asks most of a fastener. A fastener's capacity grows with CD (NDS 11.3.2), so it is not the
 * largest force that governs but the largest force ÷ CD (ASCE 7 2.4.1 with NDS 2.3.2).
 *
 * @param parts force by kind of load, any one unit; snow as the edition gives it
 * @returns zero force and CD 0.9 where there is no load
 */
export function governingLoad(editions: Pick<Editions, 'asce7'>, parts: LoadParts): GoverningLoad {
  const present = new Set(LOAD_KINDS.filter((kind) => (parts[kind] ?? 0) !== 0));
  let worst: GoverningLoad = {
    value: 0,
    combination: '',
    durationFactor: 0.9,
    factors: { D: 1, L: 0, Lr: 0, S: 0, W: 0 },
  };
  for (const { name, factors, durationFactor } of allowableStressCombinations(editions, present)) {
    const value = sum(parts, factors);
    if (value / durationFactor > worst.value / worst.durationFactor) {
      worst = { value, combination: name, durationFactor, factors };
    }
  }
  return worst;
}
