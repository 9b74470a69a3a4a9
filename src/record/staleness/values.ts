import { formatQuantity, qty, type Quantity } from '../../engineering/trace/index.ts';
import type { OutputValue } from '../calculation.ts';

/** Two figures this close are the same figure: rounding in the last bits makes nothing stale. One part in 10⁹. */
const SAME_WITHIN = 1e-9;

function sameNumber(one: number, other: number): boolean {
  if (one === other) return true;
  return Math.abs(one - other) <= SAME_WITHIN * Math.max(Math.abs(one), Math.abs(other));
}

function isQuantity(value: OutputValue): value is Quantity {
  return typeof value === 'object';
}

/** Equal in what they say: same unit, same number, same words. */
export function sameValue(one: OutputValue, other: OutputValue): boolean {
  if (isQuantity(one) && isQuantity(other)) {
    return one.unit === other.unit && sameNumber(one.value, other.value);
  }
  if (typeof one === 'number' && typeof other === 'number') return sameNumber(one, other);
  return one === other;
}

function words(value: OutputValue): string {
  if (typeof value === 'string') return value === '' ? 'nothing' : value;
  return formatQuantity(typeof value === 'number' ? qty(value) : value);
}

/** All the digits, for two figures that read the same when rounded. */
function exactWords(value: OutputValue): string {
  if (typeof value === 'string') return words(value);
  const quantity = typeof value === 'number' ? qty(value) : value;
  const figure = quantity.value.toLocaleString('en-US', { maximumSignificantDigits: 15 });
  return quantity.unit === '' || quantity.unit === 'each' ? figure : `${figure} ${quantity.unit}`;
}

/** Both figures in words, rounded as everywhere, but never so that two different figures read alike. */
export function wordsApart(was: OutputValue, now: OutputValue): { was: string; now: string } {
  const rounded = { was: words(was), now: words(now) };
  return rounded.was === rounded.now ? { was: exactWords(was), now: exactWords(now) } : rounded;
}
