/**
 * The engine's answer to physical nonsense: a sentence for the person and the path of the value at fault
 * ('beam.spanIn', 'strips.1.spacingIn'), so that a form or a command can point at the field.
 */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly path: string;

  constructor(path: string, sentence: string) {
    super(sentence);
    this.path = path;
  }
}

export function refuseUnless(condition: boolean, path: string, sentence: string): asserts condition {
  if (!condition) throw new Refusal(path, sentence);
}

/** What is made, or undefined where the engine refuses it; for what is only an addition to something that says why. */
export function unlessRefused<Made>(make: () => Made): Made | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

/** Refuses NaN and infinities (1e309 arrives as Infinity). */
export function finite(value: number, path: string): number {
  refuseUnless(Number.isFinite(value), path, `${path} must be a finite number.`);
  return value;
}

/** Refuses anything that is not a finite number above zero. */
export function positive(value: number, path: string): number {
  refuseUnless(Number.isFinite(value) && value > 0, path, `${path} must be more than zero.`);
  return value;
}

/** Refuses anything that is not a finite number of zero or more. */
export function notNegative(value: number, path: string): number {
  refuseUnless(Number.isFinite(value) && value >= 0, path, `${path} can't be negative.`);
  return value;
}
