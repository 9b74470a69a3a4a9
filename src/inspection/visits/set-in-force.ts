import type { Prisma } from '../../database/generated/client.ts';

/** What has to be read with a visit to know which set it is on. */
export const withSets = {
  set: { select: { number: true, hash: true } },
  setChoices: {
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    include: { set: { select: { number: true, hash: true } } },
  },
} as const satisfies Prisma.VisitInclude;

export interface VisitWithSets {
  readonly setId: string;
  readonly set: { readonly number: number; readonly hash: string };
  readonly setChoices: readonly {
    readonly setId: string;
    readonly goesOn: boolean;
    readonly set: { readonly number: number; readonly hash: string };
  }[];
}

export interface SetOfVisit {
  readonly setId: string;
  readonly number: number;
  readonly hash: string;
}

/** The set that a visit is on: the one it was opened against, or the last that its inspector went on with. */
export function setInForce(visit: VisitWithSets): SetOfVisit {
  const last = visit.setChoices.filter(({ goesOn }) => goesOn).at(-1) ?? visit;
  return { setId: last.setId, ...last.set };
}

/** The sets whose checks may be found on in this visit: a phone may still hold those of the earlier ones. */
export function setsOfVisit(visit: VisitWithSets): ReadonlySet<string> {
  return new Set([visit.setId, ...visit.setChoices.filter(({ goesOn }) => goesOn).map(({ setId }) => setId)]);
}

/** Does the inspector still have to choose about this newest set? */
export function choiceIsOpen(
  visit: VisitWithSets,
  newest: { readonly setId: string; readonly number: number },
): boolean {
  return (
    newest.number > setInForce(visit).number && !visit.setChoices.some(({ setId }) => setId === newest.setId)
  );
}
