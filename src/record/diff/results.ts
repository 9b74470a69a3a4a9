import type { Check, Quantity } from '../../engineering/trace/index.ts';
import type { Calculation, OutputValue } from '../calculation.ts';
import { sameValue, wordsApart } from '../staleness/values.ts';
import { sameCheck } from '../versions/rules.ts';

export interface CheckSide {
  readonly demand: Quantity;
  readonly capacity: Quantity;
  readonly ratio: number;
  readonly passes: boolean;
}

/** A check that comes out differently, is new, or is gone. */
export interface CheckChange {
  readonly id: string;
  readonly title: string;
  readonly was: CheckSide | null;
  readonly now: CheckSide | null;
  /** False where both sides read alike on a page: rounded to the same ratio, with the same verdict. */
  readonly apart: boolean;
}

/** A figure that others may rest on and that changed. */
export interface OutputChange {
  readonly name: string;
  readonly was: string | null;
  readonly now: string | null;
}

function side({ demand, capacity, ratio, passes }: Check): CheckSide {
  return { demand, capacity, ratio, passes };
}

const shown = ({ ratio }: Check) => ratio.toFixed(2);

/** What changed between the checks of two calculations, in the order of the newer one; what is gone comes last. */
export function diffChecks(was: Calculation | null, now: Calculation | null): readonly CheckChange[] {
  const before = new Map((was?.checks ?? []).map((check) => [check.id, check]));
  const changes: CheckChange[] = [];
  for (const check of now?.checks ?? []) {
    const old = before.get(check.id);
    before.delete(check.id);
    if (!old || !sameCheck(check, old)) {
      changes.push({
        id: check.id,
        title: check.title,
        was: old ? side(old) : null,
        now: side(check),
        apart: old?.passes !== check.passes || shown(old) !== shown(check),
      });
    }
  }
  for (const old of before.values()) {
    changes.push({ id: old.id, title: old.title, was: side(old), now: null, apart: true });
  }
  return changes;
}

/** What changed between the outputs of two calculations. */
export function diffOutputs(was: Calculation | null, now: Calculation | null): readonly OutputChange[] {
  const before = was?.outputs ?? {};
  const after = now?.outputs ?? {};
  const changes: OutputChange[] = [];
  for (const name of new Set([...Object.keys(after), ...Object.keys(before)])) {
    const change = outputChange(name, before[name], after[name]);
    if (change) changes.push(change);
  }
  return changes;
}

function outputChange(
  name: string,
  was: OutputValue | undefined,
  now: OutputValue | undefined,
): OutputChange | null {
  if (was === undefined) return now === undefined ? null : { name, was: null, now: wordsApart('', now).now };
  if (now === undefined) return { name, was: wordsApart(was, '').was, now: null };
  return sameValue(was, now) ? null : { name, ...wordsApart(was, now) };
}
