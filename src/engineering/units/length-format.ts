import { refuseUnless } from '../trace/refusal.ts';

/** The finest mark to show: 16 means the nearest 1/16 in. */
export interface TapeGrid {
  readonly to: 2 | 4 | 8 | 16 | 32 | 64;
}

interface TapeParts {
  readonly sign: '' | '-';
  readonly wholeInches: number;
  /** '' or '1/2', in lowest terms. */
  readonly fraction: string;
}

/** Rounds to the grid, for show only; carries into the next inch where the fraction fills up. */
function onTape(inches: number, grid: TapeGrid): TapeParts {
  refuseUnless(
    Number.isFinite(inches),
    'inches',
    'A length that is not a finite number has no marks on a tape.',
  );
  const ticks = Math.round(Math.abs(inches) * grid.to);
  const wholeInches = Math.floor(ticks / grid.to);
  let top = ticks - wholeInches * grid.to;
  let bottom: number = grid.to;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return {
    sign: inches < 0 && ticks > 0 ? '-' : '',
    wholeInches,
    fraction: top === 0 ? '' : `${top}/${bottom}`,
  };
}

function withFraction(whole: number, fraction: string, keepZero: boolean): string {
  if (fraction === '') return `${whole}`;
  return whole === 0 && !keepZero ? fraction : `${whole} ${fraction}`;
}

/**
 * Feet and inches as on a drawing: 150.5 → 12'-6 1/2", 96 → 8'-0", 6.5 → 6 1/2". Rounded to the grid for
 * show; the value that is calculated with stays what it was.
 */
export function formatFeetInches(inches: number, grid: TapeGrid): string {
  const { sign, wholeInches, fraction } = onTape(inches, grid);
  const feet = Math.floor(wholeInches / 12);
  if (feet === 0) return `${sign}${withFraction(wholeInches, fraction, false)}"`;
  return `${sign}${feet}'-${withFraction(wholeInches - feet * 12, fraction, true)}"`;
}

/** Inches only: 150.5 → 150 1/2". */
export function formatInches(inches: number, grid: TapeGrid): string {
  const { sign, wholeInches, fraction } = onTape(inches, grid);
  return `${sign}${withFraction(wholeInches, fraction, false)}"`;
}
