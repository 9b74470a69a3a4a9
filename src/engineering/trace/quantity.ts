/** Every unit the engine speaks. US customary throughout; a new unit is added here and nowhere else. */
export type Unit =
  | ''
  | 'in'
  | 'ft'
  | 'in²'
  | 'ft²'
  | 'in³'
  | 'in⁴'
  | 'in⁶'
  | 'ft³'
  | 'lb'
  | 'kip'
  | 'lb/in'
  | 'plf'
  | 'psf'
  | 'pcf'
  | 'psi'
  | 'ksi'
  | 'lb-in'
  | 'lb-ft'
  | 'kip-in'
  | 'kip-ft'
  | 'lb-in²'
  | 'lb-in³'
  | 'rad'
  | 'deg'
  | 'mph'
  | 'A'
  | 'each';

/** A number and the unit it is in. Never rounded; rounding happens where it is shown. */
export interface Quantity {
  readonly value: number;
  readonly unit: Unit;
}

export function qty(value: number, unit: Unit = ''): Quantity {
  return { value, unit };
}

const MOST_DECIMALS = 8;
/** Made once: a formatter costs far more to make than to use, and every check writes a few numbers. */
const FORMATS = Array.from(
  { length: MOST_DECIMALS + 1 },
  (_, decimals) => new Intl.NumberFormat('en-US', { maximumFractionDigits: decimals }),
);

/**
 * Four significant figures, thousands grouped, trailing zeros dropped: enough to follow a hand check,
 * few enough to read on a phone. Counts and large values keep their integer part whole.
 */
export function formatNumber(value: number): string {
  if (value === 0) return '0';
  if (!Number.isFinite(value)) return Number.isNaN(value) ? 'not a number' : value > 0 ? '∞' : '-∞';
  const magnitude = Math.floor(Math.log10(Math.abs(value)));
  const decimals = Math.min(MOST_DECIMALS, Math.max(0, 3 - magnitude));
  return (FORMATS[decimals] ?? new Intl.NumberFormat('en-US')).format(value);
}

export function formatQuantity(quantity: Quantity): string {
  const text = formatNumber(quantity.value);
  return quantity.unit === '' || quantity.unit === 'each' ? text : `${text} ${quantity.unit}`;
}
