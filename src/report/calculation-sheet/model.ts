import type { ItemKind } from '../../record/kinds/definition.ts';
import type { CalculationView } from '../../record/pages/calculation-view.ts';
import type { Picture } from '../pictures/index.ts';

/** One version of an item with all that backs it, in words ready to print. */
export interface SheetItem {
  readonly kind: ItemKind;
  readonly kindTitle: string;
  readonly key: string;
  readonly title: string;
  readonly number: number;
  readonly hash: string;
  readonly engineVersion: string;
  readonly authorName: string;
  readonly at: Date;
  /** The last word on it: 'approved by K. O., Nov 25, 2026'; or that there is none. */
  readonly stands: string;
  readonly lines: readonly string[];
  readonly calculation: CalculationView | null;
  readonly pictures: readonly Picture[];
}

export interface SheetLoad {
  readonly label: string;
  readonly kind: string;
  readonly amount: string;
  readonly where: string;
}

/** Everything an engineer would file of one opening. */
export interface CalculationSheet {
  readonly project: {
    readonly name: string;
    readonly address: string;
    readonly jurisdiction: string;
    readonly permitNumber: string;
  };
  /** Of the house. */
  readonly timeZone: string;
  readonly opening: { readonly ordinal: number; readonly name: string };
  /** 'Approved set 2', or that it is a working state. */
  readonly basis: string;
  /** Of the set, or of the versions named on the sheet. */
  readonly hash: string;
  /** What a reader must know first: superseded, a withdrawn approval, items left open. */
  readonly warnings: readonly string[];
  readonly items: readonly SheetItem[];
  readonly loads: readonly SheetLoad[];
  readonly combinations: readonly { readonly name: string; readonly durationFactor: string }[];
  readonly candidates: {
    readonly rule: string;
    readonly judged: number;
    readonly passing: number;
    readonly ranked: readonly SheetCandidate[];
    readonly nearMisses: readonly SheetCandidate[];
  } | null;
  readonly assumptions: readonly string[];
  readonly limits: readonly string[];
  readonly madeAt: Date;
}

export interface SheetCandidate {
  readonly words: string;
  readonly depth: string;
  readonly weight: string;
  readonly used: string;
  readonly why: string;
}

/** What the calculation does not cover, on every sheet. */
export const LIMITS: readonly string[] = [
  'Gravity and wind uplift on the members named here. Lateral bracing of the building, earthquake and what lies outside the load path shown are not covered.',
  'The beam is taken as a simple span between the middles of its bearings.',
  'Values marked “from memory” could not be read in the standard itself; check them before relying on them.',
  'What the survey assumed or took from plans must be confirmed on site before the wall is touched.',
  'Record of review. Not a sealed document: the licensed engineer and the authority having jurisdiction decide, and local codes go before anything printed here.',
];
