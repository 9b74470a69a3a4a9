import type { Role } from '../../people/roles.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { StaleReason } from '../staleness/rules.ts';

export type MarkWord = 'approved' | 'revised' | 'returned' | 'withdrawn';

export interface VersionReference {
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
}

export interface MarkReference {
  readonly markId: string;
  /** 1 for the first word on a version, 2 for the next. */
  readonly number: number;
  readonly word: MarkWord;
  readonly reason: string;
  readonly byId: string;
  readonly byName: string;
  readonly at: Date;
}

/** Where an item's newest version stands. What is stale is told apart, since any of these can be. */
export type ItemState =
  | { readonly is: 'empty' }
  | { readonly is: 'basis'; readonly version: VersionReference; readonly since: Date }
  | { readonly is: 'not submitted'; readonly version: VersionReference; readonly since: Date }
  | { readonly is: 'awaiting mark'; readonly version: VersionReference; readonly since: Date }
  | {
      readonly is: MarkWord;
      readonly version: VersionReference;
      readonly since: Date;
      readonly mark: MarkReference;
    };

/** What the state is decided from. */
export interface ItemFacts {
  readonly itemId: string;
  readonly projectId: string;
  readonly openingId: string | null;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly reviewable: boolean;
  readonly newest:
    | (VersionReference & {
        readonly authorId: string;
        readonly authorName: string;
        readonly authorRole: Role;
        readonly reason: string;
        readonly at: Date;
      })
    | null;
  /** When the newest version was handed to the engineer; null where it was not. */
  readonly submittedAt: Date | null;
  /** The last word on the newest version. */
  readonly mark: MarkReference | null;
}

export function itemState(facts: ItemFacts): ItemState {
  const { newest, mark, submittedAt } = facts;
  if (newest === null) return { is: 'empty' };
  const version = { versionId: newest.versionId, number: newest.number, hash: newest.hash };
  if (!facts.reviewable) return { is: 'basis', version, since: newest.at };
  if (mark !== null) return { is: mark.word, version, since: mark.at, mark };
  if (submittedAt !== null) return { is: 'awaiting mark', version, since: submittedAt };
  // The engineer's own version, recalculated from a submitted one, need not be handed over.
  if (newest.authorRole === 'engineer') return { is: 'awaiting mark', version, since: newest.at };
  return { is: 'not submitted', version, since: newest.at };
}

/** Does the engineer's word let this state into a set (unless it is stale)? */
export function isApproved(
  state: ItemState,
): state is Extract<ItemState, { readonly mark: MarkReference }> & { readonly is: 'approved' | 'revised' } {
  return state.is === 'approved' || state.is === 'revised';
}

/** An item with its state: what lists and pages show. */
export interface ItemStanding {
  readonly facts: ItemFacts;
  readonly state: ItemState;
  /** Empty where it is not stale. */
  readonly stale: readonly StaleReason[];
}

/** The state in plain words. */
export function stateWords(state: ItemState): string {
  switch (state.is) {
    case 'empty':
      return 'nothing entered yet';
    case 'basis':
      return `version ${state.version.number}`;
    case 'not submitted':
      return `version ${state.version.number} is not submitted`;
    case 'awaiting mark':
      return `version ${state.version.number} awaits the engineer's mark`;
    case 'approved':
      return `version ${state.version.number} approved by ${state.mark.byName}`;
    case 'revised':
      return `version ${state.version.number} revised by ${state.mark.byName}`;
    case 'returned':
      return `version ${state.version.number} returned by ${state.mark.byName}: ${state.mark.reason}`;
    case 'withdrawn':
      return `approval of version ${state.version.number} withdrawn by ${state.mark.byName}: ${state.mark.reason}`;
  }
}
