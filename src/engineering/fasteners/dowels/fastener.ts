import { z } from 'zod';
import { refuseUnless } from '../../trace/index.ts';
import { bendingYieldStrengthPsi, BOLT_FYB_PSI, lagBendingYieldStrengthPsi } from './bending-yield.ts';
import { NAIL_SIZES, nailSize, type PennyStyle } from './nail-sizes.ts';
import { lagSize, lagThreadIn, woodScrewSize } from './screw-sizes.ts';

/** Inches that a fastener may have at all; refuses slips of the decimal point. */
const lengthIn = z.number().min(0.75).max(24);

export const nailSchema = z.strictObject({
  kind: z.literal('nail'),
  /** `duplex`: double-headed, for temporary work; its length counts to the lower head. */
  style: z.enum(['common', 'box', 'sinker', 'pneumatic', 'connector', 'duplex']),
  diameterIn: z.number().min(0.08).max(0.375),
  lengthIn,
});

export const woodScrewSchema = z.strictObject({
  kind: z.literal('wood screw'),
  gauge: z.number().int().min(6).max(24),
  lengthIn,
});

export const lagScrewSchema = z.strictObject({
  kind: z.literal('lag screw'),
  diameterIn: z.number().min(0.25).max(1),
  lengthIn: z.number().min(1).max(12),
});

export const boltSchema = z.strictObject({
  kind: z.literal('bolt'),
  diameterIn: z.number().min(0.25).max(1),
  lengthIn,
});

/** A proprietary screw: nothing is known of it but what its report says. */
export const structuralScrewSchema = z.strictObject({
  kind: z.literal('structural screw'),
  report: z.string().min(1).max(120),
  /** Diameter by which the report names it. */
  diameterIn: z.number().min(0.1).max(0.5),
  rootDiameterIn: z.number().min(0.08).max(0.5),
  lengthIn,
  threadLengthIn: z.number().positive().max(24),
  tipLengthIn: z.number().min(0).max(2),
  fybPsi: z.number().min(30_000).max(300_000),
  headDiameterIn: z.number().positive().max(2).optional(),
  /** Reference withdrawal, lb per inch of thread, if the report gives one. */
  withdrawalLbPerIn: z.number().positive().max(2000).optional(),
  /** Reference head pull-through, lb. */
  pullThroughLb: z.number().positive().max(5000).optional(),
  /** Reference lateral value, lb, for the members at hand; takes the place of the yield equations. */
  lateralLb: z.number().positive().max(5000).optional(),
  /** Does the report cover it as the fastener of a built-up column? NDS 15.3 knows nails and bolts only. */
  coversBuiltUpColumns: z.boolean(),
});

export const fastenerSchema = z.discriminatedUnion('kind', [
  nailSchema,
  woodScrewSchema,
  lagScrewSchema,
  boltSchema,
  structuralScrewSchema,
]);

export type Fastener = z.infer<typeof fastenerSchema>;
export type Nail = z.infer<typeof nailSchema>;
export type StructuralScrew = z.infer<typeof structuralScrewSchema>;

/** What the equations need to know of a fastener. */
export interface DowelProperties {
  /** Nominal D: rules of spacing and penetration, dowel bearing. */
  readonly diameterIn: number;
  /** D, or Dr of threaded and reduced-body fasteners (NDS 12.3.7). */
  readonly yieldDiameterIn: number;
  readonly lengthIn: number;
  /** Tapered tip; nails and wood screws 2 D (NDS 12.3.5.3), lag screws E of Table L2. */
  readonly tipIn: number;
  /** Thread with its tip; zero for nails and bolts. */
  readonly threadLengthIn: number;
  readonly fybPsi: number;
  readonly headDiameterIn?: number;
}

/** A nail of Table L4 by penny size. Refuses a size that the table does not have. */
export function pennyNail(style: PennyStyle, penny: string): Nail {
  const size = nailSize(style, penny);
  refuseUnless(size !== undefined, 'fastener.penny', `There is no ${penny} ${style} nail in NDS Table L4.`);
  return { kind: 'nail', style, diameterIn: size.diameterIn, lengthIn: size.lengthIn };
}

export function pneumaticNail(diameterIn: number, nailLengthIn: number): Nail {
  return nailSchema.parse({ kind: 'nail', style: 'pneumatic', diameterIn, lengthIn: nailLengthIn });
}

function headOfNail(nail: Nail): number | undefined {
  for (const sizes of Object.values(NAIL_SIZES)) {
    const match = sizes.find(
      (size) => size.diameterIn === nail.diameterIn && size.lengthIn === nail.lengthIn,
    );
    if (match !== undefined) return match.headDiameterIn;
  }
  return undefined;
}

/** Refuses a gauge or a lag diameter that Appendix L does not list. */
export function dowelProperties(fastener: Fastener): DowelProperties {
  switch (fastener.kind) {
    case 'nail': {
      const headDiameterIn = headOfNail(fastener);
      return {
        diameterIn: fastener.diameterIn,
        yieldDiameterIn: fastener.diameterIn,
        lengthIn: fastener.lengthIn,
        tipIn: 2 * fastener.diameterIn,
        threadLengthIn: 0,
        fybPsi: bendingYieldStrengthPsi(fastener.diameterIn),
        ...(headDiameterIn === undefined ? {} : { headDiameterIn }),
      };
    }
    case 'wood screw': {
      const size = woodScrewSize(fastener.gauge);
      refuseUnless(
        size !== undefined,
        'fastener.gauge',
        `NDS Table L3 has no No. ${fastener.gauge} wood screw.`,
      );
      return {
        diameterIn: size.diameterIn,
        yieldDiameterIn: size.rootDiameterIn,
        lengthIn: fastener.lengthIn,
        tipIn: 2 * size.diameterIn,
        // Cut thread, two thirds of the length (Table L3 footnote, from memory).
        threadLengthIn: (2 / 3) * fastener.lengthIn,
        fybPsi: bendingYieldStrengthPsi(size.diameterIn),
      };
    }
    case 'lag screw': {
      const size = lagSize(fastener.diameterIn);
      refuseUnless(
        size !== undefined,
        'fastener.diameterIn',
        `NDS Table L2 has no lag screw of ${fastener.diameterIn} in.`,
      );
      return {
        diameterIn: size.diameterIn,
        yieldDiameterIn: size.rootDiameterIn,
        lengthIn: fastener.lengthIn,
        tipIn: size.tipIn,
        threadLengthIn: lagThreadIn(fastener.lengthIn),
        fybPsi: lagBendingYieldStrengthPsi(size.diameterIn),
      };
    }
    case 'bolt':
      return {
        diameterIn: fastener.diameterIn,
        // D, not Dr: the threads take up no more than a quarter of the bearing length (NDS 12.3.7.2).
        yieldDiameterIn: fastener.diameterIn,
        lengthIn: fastener.lengthIn,
        tipIn: 0,
        threadLengthIn: 0,
        fybPsi: BOLT_FYB_PSI,
      };
    case 'structural screw':
      refuseUnless(
        fastener.rootDiameterIn <= fastener.diameterIn,
        'fastener.rootDiameterIn',
        'The root of a screw cannot be thicker than the screw.',
      );
      refuseUnless(
        fastener.threadLengthIn <= fastener.lengthIn && fastener.tipLengthIn < fastener.lengthIn,
        'fastener.threadLengthIn',
        'Thread and tip cannot be longer than the screw.',
      );
      return {
        diameterIn: fastener.diameterIn,
        yieldDiameterIn: fastener.rootDiameterIn,
        lengthIn: fastener.lengthIn,
        tipIn: fastener.tipLengthIn,
        threadLengthIn: fastener.threadLengthIn,
        fybPsi: fastener.fybPsi,
        ...(fastener.headDiameterIn === undefined ? {} : { headDiameterIn: fastener.headDiameterIn }),
      };
  }
}

function inches(value: number): string {
  return String(Number(value.toFixed(4)));
}

/** '0.162 × 3.5 in nail (16d common)': diameter × length first, because penny names mislead. */
export function fastenerLabel(fastener: Fastener): string {
  switch (fastener.kind) {
    case 'nail': {
      const size = `${fastener.diameterIn.toFixed(3)} × ${inches(fastener.lengthIn)} in`;
      if (fastener.style === 'common' || fastener.style === 'box' || fastener.style === 'sinker') {
        const known = NAIL_SIZES[fastener.style].find(
          (row) => row.diameterIn === fastener.diameterIn && row.lengthIn === fastener.lengthIn,
        );
        return `${size} nail (${known === undefined ? '' : `${known.penny} `}${fastener.style})`;
      }
      return `${size} ${fastener.style} nail`;
    }
    case 'wood screw':
      return `No. ${fastener.gauge} × ${inches(fastener.lengthIn)} in wood screw`;
    case 'lag screw':
      return `${inches(fastener.diameterIn)} × ${inches(fastener.lengthIn)} in lag screw`;
    case 'bolt':
      return `${inches(fastener.diameterIn)} × ${inches(fastener.lengthIn)} in bolt`;
    case 'structural screw':
      return `${inches(fastener.diameterIn)} × ${inches(fastener.lengthIn)} in structural screw (${fastener.report})`;
  }
}
