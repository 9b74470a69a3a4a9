import type { SalvageWordKind } from '../../database/generated/client.ts';

/** What the owner decides of something that comes out. */
export const decisions = ['keep', 'give_away', 'throw_away'] as const satisfies readonly SalvageWordKind[];
/** What the contractor says of it afterwards. */
export const outcomes = ['gone', 'taken_off'] as const satisfies readonly SalvageWordKind[];

export const wordTexts: Readonly<Record<SalvageWordKind, string>> = {
  keep: 'keep it',
  give_away: 'give it away',
  throw_away: 'no use for it',
  gone: 'gone from the house',
  taken_off: 'taken off the list',
};

export interface SalvageSaid {
  readonly word: SalvageWordKind;
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
}

export interface SalvageStanding {
  /** The owner's last decision; null where none was made. */
  readonly decision: SalvageSaid | null;
  /** It left, or was listed by mistake; null where it is still there. */
  readonly end: SalvageSaid | null;
}

/** Where a thing stands; words come oldest first. A decision after the end changes nothing. Pure. */
export function salvageStanding(said: readonly SalvageSaid[]): SalvageStanding {
  const end = said.find(({ word }) => outcomes.some((one) => one === word)) ?? null;
  const decision = said.findLast(({ word }) => decisions.some((one) => one === word)) ?? null;
  return { decision, end };
}

/** Why this can't be said now, as a sentence; '' where it can. */
export function wordProblem(word: SalvageWordKind, { decision, end }: SalvageStanding): string {
  if (end !== null) return `It is ${wordTexts[end.word]} already.`;
  if (word === 'gone' && decision === null) return 'The owner has not decided yet: it stays in the house.';
  if (word === 'gone' && decision?.word === 'keep') return 'The owner keeps it.';
  return '';
}
