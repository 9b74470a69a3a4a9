import { checkView, stepView, type CheckView, type StepView } from '../../web/check-view.ts';
import { formatQuantity } from '../../engineering/trace/index.ts';
import { noticeView, type NoticeView } from '../../web/notice-view.ts';
import type { Calculation, OutputValue } from '../calculation.ts';

export interface CalculationView {
  readonly checks: readonly CheckView[];
  readonly steps: readonly StepView[];
  readonly notices: readonly NoticeView[];
  readonly outputs: readonly { readonly term: string; readonly detail: string }[];
  readonly passing: number;
  readonly failing: number;
  readonly notMet: readonly CheckView[];
  readonly governing: CheckView | null;
}

function outputWords(value: OutputValue): string {
  return typeof value === 'object' ? formatQuantity(value) : String(value);
}

/** A calculation in words ready to print; null where the kind has none. */
export function calculationView(calculation: Calculation | null): CalculationView | null {
  if (calculation === null) return null;
  const checks = calculation.checks.map(checkView);
  const notMet = checks.filter((check) => !check.passes);
  const worst = [...calculation.checks].sort((one, other) => other.ratio - one.ratio)[0];
  return {
    checks,
    steps: calculation.steps.map(stepView),
    notices: calculation.notices.map(noticeView),
    outputs: Object.entries(calculation.outputs).map(([term, value]) => ({
      term,
      detail: outputWords(value),
    })),
    passing: checks.length - notMet.length,
    failing: notMet.length,
    notMet,
    governing: worst === undefined ? null : checkView(worst),
  };
}
