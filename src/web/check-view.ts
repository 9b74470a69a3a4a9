import { clauseText, type Clause } from '../engineering/trace/clause.ts';
import { formatQuantity } from '../engineering/trace/quantity.ts';
import { substitution, type Check, type Step } from '../engineering/trace/step.ts';

/** A step of a calculation in words ready to print. */
export interface StepView {
  readonly title: string;
  readonly formula: string;
  readonly substituted: string;
  readonly result: string;
  readonly clause: string;
  readonly note?: string;
}

/** A check in words ready to print; `templates/parts/checks.njk` shows it. */
export interface CheckView {
  readonly id: string;
  readonly title: string;
  readonly passes: boolean;
  readonly ratioText: string;
  /** Length of the bar where the capacity is 100; cut off at 150. */
  readonly barWidth: number;
  readonly demand: string;
  readonly capacity: string;
  readonly sentence: string;
  readonly clause: string;
  readonly governing?: string;
  readonly steps: readonly StepView[];
}

const LONGEST_BAR = 150;

function leftSide(formula: string): string {
  const cut = formula.indexOf('=');
  return cut === -1 ? '' : `${formula.slice(0, cut).trim()} = `;
}

export function stepView(step: Step): StepView {
  const left = leftSide(step.formula);
  return {
    title: step.title,
    formula: step.formula,
    substituted: `${left}${substitution(step)}`,
    result: `${left}${formatQuantity(step.result)}`,
    clause: clauseText(step.clause),
    ...(step.note === undefined ? {} : { note: step.note }),
  };
}

/**
 * Two decimals as the trade writes them, rounded so that the words never contradict the verdict: a check that
 * fails by a hair reads 1.01, one that passes by a hair reads 1.00.
 */
export function ratioText(ratio: number, passes: boolean): string {
  if (!Number.isFinite(ratio)) return 'no capacity';
  const rounded = Math.round(ratio * 100) / 100;
  if (!passes && rounded <= 1) return '1.01';
  if (passes && rounded > 1) return '1.00';
  return rounded.toFixed(2);
}

export function checkView(check: Check): CheckView {
  const bar = Number.isFinite(check.ratio) ? check.ratio * 100 : LONGEST_BAR;
  return {
    id: check.id,
    title: check.title,
    passes: check.passes,
    ratioText: ratioText(check.ratio, check.passes),
    barWidth: Math.round(Math.min(bar, LONGEST_BAR) * 10) / 10,
    demand: formatQuantity(check.demand),
    capacity: formatQuantity(check.capacity),
    sentence: check.sentence,
    clause: clauseText(check.clause),
    ...(check.governing === undefined ? {} : { governing: check.governing }),
    steps: check.steps.map(stepView),
  };
}

/** For notices, which carry a clause or none. */
export function clauseWords(clause: Clause | undefined): string {
  return clause === undefined ? '' : clauseText(clause);
}
