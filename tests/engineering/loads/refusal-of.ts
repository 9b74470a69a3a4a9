import { Refusal } from '../../../src/engineering/trace/refusal.ts';

/** The refusal that an action ends in; anything else, and no refusal at all, is an error of the test. */
export function refusalOf(action: () => unknown): Refusal {
  try {
    action();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('expected a refusal');
}
