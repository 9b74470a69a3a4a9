import type { Check, Notice, Quantity } from '../../trace/index.ts';
import type { PrescriptiveRow } from '../irc-fastening-schedule.ts';

/** The code's own row beside the computed one. */
export interface PrescriptiveComparison {
  readonly row: PrescriptiveRow;
  readonly outcome: 'meets it' | 'falls short' | 'not comparable';
  readonly sentence: string;
}

export interface RowJudgement {
  readonly rowId: string;
  /** Demand, capacity and ratio of the governing check. */
  readonly demand: Quantity;
  readonly capacity: Quantity;
  readonly ratio: number;
  /** Every check of `checks` passes. Advice does not count. */
  readonly passes: boolean;
  /** The worst check that fails; where all pass, the check of strength that the row is about. */
  readonly governing: Check | undefined;
  readonly checks: readonly Check[];
  /** What the standard recommends and does not demand, as demand (recommended) and capacity (provided). */
  readonly advice: readonly Check[];
  readonly notices: readonly Notice[];
  readonly prescriptive?: PrescriptiveComparison;
}

/** What one basis of judgement contributes. */
export interface Findings {
  readonly demand: Quantity;
  readonly capacity: Quantity;
  readonly checks: readonly Check[];
  readonly advice: readonly Check[];
  readonly notices: readonly Notice[];
}
