import { formatNumber } from '../../engineering/trace/index.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';

/** Endings of names in contents that are units, longest first, and how they are written. */
const units: readonly (readonly [ending: string, unit: string])[] = [
  ['PerFt2', 'per ft²'],
  ['Ft2', 'ft²'],
  ['In2', 'in²'],
  ['In3', 'in³'],
  ['In4', 'in⁴'],
  ['In12', 'in 12'],
  ['Plf', 'plf'],
  ['Psf', 'psf'],
  ['Pcf', 'pcf'],
  ['Psi', 'psi'],
  ['Ksi', 'ksi'],
  ['Deg', 'deg'],
  ['Lb', 'lb'],
  ['Ft', 'ft'],
  ['In', 'in'],
];

function unitOf(name: string): readonly [ending: string, unit: string] | undefined {
  return units.find(([ending]) => name.endsWith(ending) && name.length > ending.length);
}

/** 'bearingLeftIn' → 'bearing left'; 'member' → 'member'. */
export function plainName(name: string): string {
  const unit = unitOf(name);
  return (unit ? name.slice(0, -unit[0].length) : name)
    .replace(/([\p{Ll}\p{N}])(\p{Lu})/gu, '$1 $2')
    .replace(/[_-]+/g, ' ')
    .toLowerCase();
}

const SIXTEENTHS = 16;

/** A content's figure as the trade reads it: 152 under 'spanIn' → 12'-8". */
export function plainValue(name: string, value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  if (typeof value !== 'number') return JSON.stringify(value);
  const unit = unitOf(name)?.[1];
  // On the tape's grid and a foot or more: feet and inches. Anything else keeps its decimals.
  if (unit === 'in' && value >= 12 && Number.isInteger(value * SIXTEENTHS)) {
    return formatFeetInches(value, { to: SIXTEENTHS });
  }
  return unit === undefined ? formatNumber(value) : `${formatNumber(value)} ${unit}`;
}

/** All digits, for two figures that read the same when rounded. */
export function exactValue(name: string, value: number): string {
  const figure = value.toLocaleString('en-US', { maximumSignificantDigits: 15 });
  const unit = unitOf(name)?.[1];
  return unit === undefined ? figure : `${figure} ${unit}`;
}
