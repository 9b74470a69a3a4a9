import type { Clause } from './clause.ts';
import { formatQuantity, type Quantity } from './quantity.ts';

/**
 * One line of a calculation: formula → values put in → result. Plain data; the substituted text is made
 * only when somebody looks (`substitution`), so that a search over thousands of candidates stays cheap.
 */
export interface Step {
  /** Stable within one calculation, dotted: 'beam.bending.CL'. */
  readonly id: string;
  readonly title: string;
  readonly clause: Clause;
  /** 'Fb′ = Fb · CD · CM · Ct · CL': the symbols right of the first '=' are the keys of `values`. */
  readonly formula: string;
  readonly values: Readonly<Record<string, Quantity>>;
  readonly result: Quantity;
  readonly note?: string;
}

/** A demand held against a capacity. `passes` is decided once, here, and never again by a page. */
export interface Check {
  readonly id: string;
  readonly title: string;
  readonly clause: Clause;
  readonly demand: Quantity;
  readonly capacity: Quantity;
  /** demand ÷ capacity; Infinity where there is demand and no capacity. */
  readonly ratio: number;
  readonly passes: boolean;
  /** One sentence a person can act on. */
  readonly sentence: string;
  /** The load combination that governs, by name, where one does. */
  readonly governing?: string;
  readonly steps: readonly Step[];
}

/** Something the reader must know that is not a demand/capacity pair. */
export interface Notice {
  readonly id: string;
  readonly severity: 'caution' | 'note';
  readonly text: string;
  readonly clause?: Clause;
}

/** Rounding in the last bits must not turn "exactly full" into "over": one part in 10⁹. */
const RATIO_SLACK = 1e-9;

export interface CheckInput {
  readonly id: string;
  readonly title: string;
  readonly clause: Clause;
  readonly demand: Quantity;
  readonly capacity: Quantity;
  readonly steps?: readonly Step[];
  readonly governing?: string;
  /** Replaces the standard sentence where the trade would say it differently. */
  readonly sentence?: (passes: boolean, ratio: number) => string;
}

export function makeCheck(input: CheckInput): Check {
  const { demand, capacity } = input;
  const ratio =
    capacity.value > 0 ? Math.max(0, demand.value) / capacity.value : demand.value > 0 ? Infinity : 0;
  const passes = ratio <= 1 + RATIO_SLACK;
  const sentence = input.sentence
    ? input.sentence(passes, ratio)
    : passes
      ? `${input.title}: ${formatQuantity(demand)} of ${formatQuantity(capacity)} allowed.`
      : `${input.title}: ${formatQuantity(demand)} is more than the ${formatQuantity(capacity)} allowed.`;
  return {
    id: input.id,
    title: input.title,
    clause: input.clause,
    demand,
    capacity,
    ratio,
    passes,
    sentence,
    steps: input.steps ?? [],
    ...(input.governing === undefined ? {} : { governing: input.governing }),
  };
}

/** The check with the highest ratio; the first of equals. Undefined for an empty list. */
export function governingCheck(checks: readonly Check[]): Check | undefined {
  let worst: Check | undefined;
  for (const check of checks) if (worst === undefined || check.ratio > worst.ratio) worst = check;
  return worst;
}

const POWER = /[²³⁴^]/u;
/** Decimal digits only: in 'b²' the symbol is b, and the power stays behind the value. */
const SYMBOL = /[\p{L}_][\p{L}\p{Nd}_′*⊥‖]*/gu;

/**
 * The right-hand side of the formula with each symbol replaced by its value and unit.
 * 'Fb′ = Fb · CD' with Fb 900 psi, CD 1.15 → '900 psi · 1.15'.
 */
export function substitution(step: Step): string {
  const cut = step.formula.indexOf('=');
  const right = cut === -1 ? step.formula : step.formula.slice(cut + 1).trim();
  return right.replace(SYMBOL, (symbol: string, at: number) => {
    const value = step.values[symbol];
    if (value === undefined) return symbol;
    const text = formatQuantity(value);
    // '(5.25 in)²', not '5.25 in²', which would read as an area.
    return POWER.test(right.charAt(at + symbol.length)) ? `(${text})` : text;
  });
}
