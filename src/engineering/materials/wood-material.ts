import type { Clause } from '../trace/clause.ts';
import type { SpeciesCode } from './wood-species.ts';

/** Reference design values of NDS and its Supplement, psi, before any adjustment. */
export interface WoodReferenceValues {
  /** Bending, tension face at the bottom (glulam: the face marked as tension side). */
  readonly fbPsi: number;
  readonly ftPsi: number;
  readonly fvPsi: number;
  readonly fcPerpPsi: number;
  readonly fcPsi: number;
  /** For deflection. */
  readonly ePsi: number;
  /** For stability. */
  readonly eminPsi: number;
}

/** What decides which adjustment factors apply (NDS Tables 4.3.1, 5.3.1, 8.3.1). */
export type WoodFamily =
  'dimension' | 'southern pine dimension' | 'timber' | 'southern pine timber' | 'glulam' | 'composite';

/**
 * Volume factor CV: glulam by length, depth and width (NDS 5.3.6), composites by depth alone, as their
 * report states it (NDS 8.3.6).
 */
export type VolumeEffect =
  | { readonly kind: 'glulam'; readonly exponentDivisor: 10 | 20 }
  | { readonly kind: 'depth'; readonly referenceDepthIn: number; readonly exponent: number };

export interface WoodMaterial {
  readonly family: WoodFamily;
  /** 'DF-L No.2', 'LVL 2.0E', '24F-V4'. */
  readonly label: string;
  /** The table or the report the values stand in. */
  readonly clause: Clause;
  readonly reference: WoodReferenceValues;
  /** Bending with the tension face on top; differs from fbPsi in unbalanced glulam only. */
  readonly fbNegativePsi: number;
  /** Emin about the weak axis, which beam stability rests on; differs in glulam only. */
  readonly eminWeakPsi: number;
  /** Bending about the weak axis (glulam Fby); sawn lumber takes Fb with the flat use factor. */
  readonly fbWeakPsi: number;
  readonly specificGravity: number;
  readonly densityPcf: number;
  readonly species?: SpeciesCode;
  /** The row that was read; Stud lumber 8 in and wider is read as No.3. */
  readonly grade?: string;
  readonly sizeClass?: 'dimension' | 'posts and timbers' | 'beams and stringers';
  readonly volume?: VolumeEffect;
  /** What the reader must know of these values. */
  readonly note?: string;
}
