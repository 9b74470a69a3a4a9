import type { Check, Notice, Quantity, Step } from '../engineering/trace/index.ts';
import { canonicalJson } from './canonical.ts';

/** A figure that others may rest on, or that a list may show. */
export type OutputValue = Quantity | string | number;

/** What a kind's calculation gives: the trace, and the named figures that other items take from it. */
export interface Calculation {
  readonly checks: readonly Check[];
  readonly steps: readonly Step[];
  readonly notices: readonly Notice[];
  readonly outputs: Readonly<Record<string, OutputValue>>;
}

/**
 * A value as JSON can carry it. JSON has no infinity; a ratio without capacity is infinite: it is kept as null
 * under its name and comes back as Infinity.
 *
 * @throws TypeError where a figure is not a number at all (NaN): nothing of that sort is put on record.
 */
function recordable(value: unknown): unknown {
  const text = JSON.stringify(value, (key, part: unknown) => {
    if (typeof part === 'number' && (Number.isNaN(part) || part === -Infinity)) {
      throw new TypeError(`A figure to be recorded is not a number (${key}).`);
    }
    return part === Infinity ? null : part;
  });
  return JSON.parse(text) as unknown;
}

const INFINITE_WHEN_NULL = new Set(['ratio', 'value']);

function withInfinity(key: string, value: unknown): unknown {
  return value === null && INFINITE_WHEN_NULL.has(key) ? Infinity : value;
}

/** The canonical text of computed figures. Throws TypeError on NaN. */
export function recordText(value: unknown): string {
  return canonicalJson(recordable(value));
}

/** Computed figures as they were put on record. Only a text with a null in it is looked through value by value. */
export function readRecordText(text: string): unknown {
  return text.includes('null') ? (JSON.parse(text, withInfinity) as unknown) : (JSON.parse(text) as unknown);
}

/** The canonical text of a calculation, '' where a kind has none. */
export function calculationText(calculation: Calculation | null): string {
  return calculation === null ? '' : recordText(calculation);
}

/** A calculation as it was put on record; null where the kind has none. */
export function readCalculation(text: string): Calculation | null {
  return text === '' ? null : (readRecordText(text) as Calculation);
}

/** The outputs alone, as cut out of a stored calculation by a query. */
export function readOutputs(text: string | null): Readonly<Record<string, OutputValue>> {
  return text === null ? {} : (readRecordText(text) as Record<string, OutputValue>);
}

/** The checks of a calculation that are not met. */
export function failingChecks(calculation: Calculation | null): readonly Check[] {
  return calculation?.checks.filter((check) => !check.passes) ?? [];
}
