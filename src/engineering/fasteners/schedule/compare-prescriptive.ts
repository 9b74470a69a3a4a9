import { makeCheck, qty, type Check, type Editions } from '../../trace/index.ts';
import { ircClause } from '../clauses.ts';
import { dowelProperties } from '../dowels/fastener.ts';
import {
  optionText,
  prescriptiveRow,
  type PrescriptiveItem,
  type PrescriptiveOption,
} from '../irc-fastening-schedule.ts';
import type { PrescriptiveComparison } from './judgement.ts';
import type { FasteningRow } from './row.ts';

/** Items that the code nails along both edges, a line at each. */
const EDGE_BY_EDGE: ReadonlySet<PrescriptiveItem | undefined> = new Set([
  'built-up header',
  'built-up beam, along',
]);

/** The option whose nail is no bigger than the row's fastener and that asks for the fewest of them. */
function bestOption(
  row: FasteningRow,
  options: readonly PrescriptiveOption[],
): PrescriptiveOption | undefined {
  const { diameterIn, lengthIn } = dowelProperties(row.fastener);
  let best: PrescriptiveOption | undefined;
  for (const choice of options) {
    if (choice.diameterIn > diameterIn + 1e-9 || choice.lengthIn > lengthIn + 1e-9) continue;
    const kinder =
      best === undefined ||
      (choice.count ?? Infinity) < (best.count ?? Infinity) ||
      (choice.spacingIn ?? 0) > (best.spacingIn ?? 0);
    if (kinder) best = choice;
  }
  return best;
}

/** Demand and capacity of the comparison: nails needed and there, or spacing there and allowed. */
function measure(
  row: FasteningRow,
  choice: PrescriptiveOption,
): { needed: number; there: number; unit: 'each' | 'in' } | undefined {
  if (choice.count !== undefined) {
    return row.pattern.kind === 'count'
      ? { needed: choice.count, there: row.pattern.count, unit: 'each' }
      : undefined;
  }
  if (choice.spacingIn === undefined) return undefined;
  // Rows share the duty of the lines that the code asks for: one, or one along each edge.
  const lines = EDGE_BY_EDGE.has(row.prescriptiveItem) ? 2 : 1;
  return { needed: (row.pattern.spacingIn * lines) / row.pattern.rows, there: choice.spacingIn, unit: 'in' };
}

/** The row of IRC Table R602.3(1) beside the row at hand. */
export function comparePrescriptive(
  row: FasteningRow,
  editions: Editions,
): PrescriptiveComparison | undefined {
  if (row.prescriptiveItem === undefined) return undefined;
  const code = prescriptiveRow(row.prescriptiveItem);
  const name = `IRC ${editions.irc} ${code.section ?? 'Table R602.3(1)'}, ${code.description.toLowerCase()} (${code.location})`;
  if (code.see !== undefined) {
    return { row: code, outcome: 'not comparable', sentence: `${name}: the table refers to ${code.see}.` };
  }
  const choice = row.fastener.kind === 'nail' ? bestOption(row, code.options) : undefined;
  const measured = choice === undefined ? undefined : measure(row, choice);
  if (choice === undefined || measured === undefined) {
    const all = code.options.map(optionText).join('; or ');
    return {
      row: code,
      outcome: 'not comparable',
      sentence: `${name}: ${all}. The row at hand is another kind of fastening.`,
    };
  }
  const meets = measured.needed <= measured.there + 1e-9;
  return {
    row: code,
    outcome: meets ? 'meets it' : 'falls short',
    sentence: `${name}: ${optionText(choice)}. The row at hand ${meets ? 'meets it' : 'falls short of it'}.`,
  };
}

/** The same comparison as a check, for rows that have no computed demand. */
export function prescriptiveCheck(row: FasteningRow, editions: Editions): Check {
  const code = row.prescriptiveItem === undefined ? undefined : prescriptiveRow(row.prescriptiveItem);
  const choice = code === undefined ? undefined : bestOption(row, code.options);
  const measured = choice === undefined ? undefined : measure(row, choice);
  const comparison = comparePrescriptive(row, editions);
  const provenance = choice?.provenance ?? 'from memory';
  return makeCheck({
    id: `${row.id}.prescriptive`,
    title: 'Fastening schedule of the code',
    clause: ircClause(editions, code?.section ?? 'Table R602.3(1)', provenance),
    demand: measured === undefined ? qty(1, 'each') : qty(measured.needed, measured.unit),
    capacity: measured === undefined ? qty(0, 'each') : qty(measured.there, measured.unit),
    sentence: () => comparison?.sentence ?? 'Name the row of the fastening schedule that this joint goes by.',
  });
}
