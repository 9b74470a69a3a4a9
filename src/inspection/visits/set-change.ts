import { isAbout, stemOf, type CheckOfSet } from '../status.ts';

/** What a later set changes about the checks of one visit. */
export interface SetChange {
  /** Asked for in other words or of another version; `was` is how the earlier set had it. */
  readonly changed: readonly { readonly check: CheckOfSet; readonly was: CheckOfSet }[];
  readonly added: readonly CheckOfSet[];
  readonly gone: readonly CheckOfSet[];
  /** As they were, findings and all. */
  readonly unchanged: number;
}

/** Holds the checks of one visit in two sets against each other, by what each means. Pure. */
export function compareChecks(before: readonly CheckOfSet[], after: readonly CheckOfSet[]): SetChange {
  const was = new Map(before.map((check) => [stemOf(check.key), check]));
  const now = new Set(after.map((check) => stemOf(check.key)));
  const changed: { check: CheckOfSet; was: CheckOfSet }[] = [];
  const added: CheckOfSet[] = [];
  for (const check of after) {
    const earlier = was.get(stemOf(check.key));
    if (earlier === undefined) added.push(check);
    else if (!isAbout(earlier, check)) changed.push({ check, was: earlier });
  }
  return {
    changed,
    added,
    gone: before.filter((check) => !now.has(stemOf(check.key))),
    unchanged: after.length - changed.length - added.length,
  };
}
