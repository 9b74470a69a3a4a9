/** Coefficients from the constant upward: c[0] + c[1]·s + c[2]·s² … */
export type Polynomial = readonly number[];

export function evaluate(polynomial: Polynomial, s: number): number {
  let sum = 0;
  for (let power = polynomial.length - 1; power >= 0; power--) sum = sum * s + (polynomial[power] ?? 0);
  return sum;
}

/** The derivative at s. */
export function rateOf(polynomial: Polynomial, s: number): number {
  let sum = 0;
  for (let power = polynomial.length - 1; power >= 1; power--) {
    sum = sum * s + power * (polynomial[power] ?? 0);
  }
  return sum;
}

/**
 * The first stop, the places between where the polynomial changes sign, in rising order, and the last stop;
 * a zero on an inner stop counts too. The stops must hold every place where the derivative changes sign:
 * between two of them the polynomial only rises or only falls, so there is one root at most and it is
 * bracketed. What comes back are stops of the same kind for the integral of the polynomial.
 */
export function rootsBetween(polynomial: Polynomial, stops: readonly number[]): readonly number[] {
  const last = stops.length - 1;
  let from = stops[0] ?? 0;
  let signFrom = Math.sign(evaluate(polynomial, from));
  const roots = [from];
  for (let index = 1; index <= last; index++) {
    const to = stops[index] ?? from;
    const signTo = Math.sign(evaluate(polynomial, to));
    if (signFrom * signTo < 0) roots.push(rootInside(polynomial, from, to, signTo));
    if (index === last || signTo === 0) roots.push(to);
    from = to;
    signFrom = signTo;
  }
  return roots;
}

/** Roots are parts of a piece, 0 to 1: this is the last digit. */
const CLOSE = 1e-15;
/** A simple root takes half a dozen steps, a threefold one some eighty. */
const MOST_STEPS = 200;

/** Newton's rule inside a bracket; a step that would leave the bracket halves it instead. */
function rootInside(polynomial: Polynomial, from: number, to: number, signTo: number): number {
  let low = from;
  let high = to;
  let s = (low + high) / 2;
  for (let step = 0; step < MOST_STEPS; step++) {
    const value = evaluate(polynomial, s);
    if (Math.sign(value) === signTo) high = s;
    else low = s;
    const newton = s - value / rateOf(polynomial, s);
    const next = newton >= low && newton <= high ? newton : (low + high) / 2;
    if (Math.abs(next - s) < CLOSE) return next;
    s = next;
  }
  return s;
}
