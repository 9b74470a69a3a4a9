import type { Role } from '../../people/roles.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { MarkWord } from '../items/state.ts';

/** The frozen content of an approved set: what its hash covers, in plain data. Times are ISO 8601. */
export interface SetContent {
  readonly format: 1;
  readonly project: {
    readonly projectId: string;
    readonly name: string;
    readonly address: string;
    readonly jurisdiction: string;
    readonly permitNumber: string;
  };
  readonly opening: { readonly openingId: string; readonly ordinal: number; readonly name: string };
  readonly number: number;
  readonly issuedAt: string;
  readonly issuedBy: { readonly personId: string; readonly name: string };
  readonly note: string;
  readonly entries: readonly SetEntryContent[];
  /** What of the opening this set leaves open, and why. */
  readonly gaps: readonly SetGap[];
  /** The versions of criteria and survey at the time. */
  readonly bases: readonly SetBasis[];
  /** Against the set before; empty in the first. */
  readonly changes: readonly SetChange[];
  /** Questions that were open when it was issued, as the engineer confirmed. */
  readonly openQuestions: readonly {
    readonly threadId: string;
    readonly itemId: string;
    readonly itemTitle: string;
    readonly text: string;
  }[];
  /** Which items rest on whose word. */
  readonly reliance: readonly {
    readonly personId: string;
    readonly name: string;
    readonly items: readonly string[];
  }[];
  /** The last line of the project's log before this set: anchors the log in every print. */
  readonly log: { readonly seq: number; readonly hash: string };
}

export interface SetEntryContent {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
  /** The version in short lines, in trade words. */
  readonly lines: readonly string[];
  readonly author: { readonly personId: string; readonly name: string; readonly role: Role };
  readonly mark: {
    readonly markId: string;
    readonly number: number;
    readonly word: MarkWord;
    readonly reason: string;
    readonly byId: string;
    readonly byName: string;
    readonly at: string;
  };
}

export interface SetGap {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  /** 'Footing, left: version 2 returned by …: too thin' */
  readonly sentence: string;
}

export interface SetBasis {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly versionId: string;
  readonly number: number;
  readonly hash: string;
}

export interface SetChange {
  readonly itemId: string;
  readonly kind: ItemKind;
  readonly title: string;
  readonly what: 'added' | 'changed' | 'left out';
  readonly was: number | null;
  readonly now: number | null;
  /** What differs, in short lines. */
  readonly lines: readonly string[];
}
