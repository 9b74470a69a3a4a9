import { z } from 'zod';
import { dowelMemberSchema } from '../dowels/member.ts';
import { fastenerSchema } from '../dowels/fastener.ts';
import { prescriptiveItemSchema } from '../irc-fastening-schedule.ts';

/** The joints of a bearing-wall replacement; they name the row's place in the schedule and in the drawing. */
export const JOINTS = [
  'beam plies',
  'stud pack plies',
  'jack to king',
  'king to plate',
  'beam to king',
  'beam seat',
  'joist hanger',
  'joist tie',
  'top plate splice',
  'top plate strap',
  'sole plate anchor',
  'brace foot',
  'shoring',
  'other',
] as const;
export const jointSchema = z.enum(JOINTS);
export type Joint = z.infer<typeof jointSchema>;

/** A piece of the joint, in the order in which the fastener meets it. */
export const rowMemberSchema = z.strictObject({
  ...dowelMemberSchema.shape,
  name: z.string().min(1).max(60),
  /** As stamped, 'DF-L No. 2'; empty for steel and concrete. */
  species: z.string().max(60),
  /** Across the grain, in the plane of the face that is nailed, in. */
  widthIn: z.number().positive().max(120),
  /** Modulus of elasticity, psi; needed for the group action of fasteners of 1/4 in and more. */
  ePsi: z.number().min(100_000).max(30_000_000).optional(),
});
export type RowMember = z.infer<typeof rowMemberSchema>;

const placing = {
  rows: z.number().int().min(1).max(12),
  /** Centre to centre in a row, in. */
  spacingIn: z.number().min(0.5).max(60),
  /** Centre to centre between rows, in; ignored for one row. */
  rowSpacingIn: z.number().min(0).max(48),
  /** Neighbouring fasteners offset against each other. */
  staggered: z.boolean(),
};

/** `count`: so many in the joint. `spaced`: rows along a length; demand and capacity are then per foot. */
export const patternSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('count'), count: z.number().int().min(1).max(400), ...placing }),
  z.strictObject({ kind: z.literal('spaced'), lengthIn: z.number().min(1).max(2400), ...placing }),
]);
export type Pattern = z.infer<typeof patternSchema>;

const force = z.number().min(0).max(1e6);
const demandNotes = {
  durationFactor: z.number().min(0.9).max(2),
  /** 'D + L'; empty where no combination applies. */
  combination: z.string().max(80),
  /** Where the figure comes from, one sentence. */
  source: z.string().min(1).max(400),
};

/** What the joint has to carry. `none`: it holds pieces in place and no more. */
export const demandSchema = z.discriminatedUnion('per', [
  z.strictObject({ per: z.literal('joint'), lateralLb: force, withdrawalLb: force, ...demandNotes }),
  z.strictObject({ per: z.literal('foot'), lateralPlf: force, withdrawalPlf: force, ...demandNotes }),
  z.strictObject({ per: z.literal('connector'), downLb: force, upLb: force, ...demandNotes }),
  z.strictObject({ per: z.literal('none'), ...demandNotes }),
]);
export type Demand = z.infer<typeof demandSchema>;

/** A connector's listing, typed in by the user from the report that stands behind it. */
export const listingSchema = z.strictObject({
  report: z.string().min(1).max(120),
  downLb: force,
  upLb: force,
  nailsRequired: z.number().int().min(1).max(200),
  nailDiameterIn: z.number().min(0.09).max(0.375),
  nailLengthIn: z.number().min(1).max(8),
  shortNailsAllowed: z.boolean(),
});
export type Listing = z.infer<typeof listingSchema>;

/** An anchor's capacity in the concrete at hand, typed in from its report. */
export const declaredAnchorSchema = z.strictObject({
  report: z.string().min(1).max(120),
  shearLb: force,
  tensionLb: force,
  leastEdgeIn: z.number().min(0).max(24),
  leastSpacingIn: z.number().min(0).max(48),
  leastEmbedmentIn: z.number().min(0.5).max(24),
  leastConcreteThicknessIn: z.number().min(1).max(48),
});
export type DeclaredAnchor = z.infer<typeof declaredAnchorSchema>;

/** By what the row is judged. */
export const basisSchema = z.discriminatedUnion('kind', [
  /** NDS chapter 12: the demand against the fasteners' adjusted values. */
  z.strictObject({ kind: z.literal('yield limit'), shear: z.enum(['single', 'double']) }),
  /** NDS 15.3.3 nails or 15.3.4 bolts: does the pack count as one column? */
  z.strictObject({ kind: z.literal('built-up column') }),
  /** A metal connector by its listing. */
  z.strictObject({ kind: z.literal('listing'), listing: listingSchema.optional() }),
  /** Anchors in concrete: the plate by NDS, the concrete by declared values. */
  z.strictObject({
    kind: z.literal('anchor'),
    /** From the anchor to the nearest edge of the concrete, in. */
    concreteEdgeIn: z.number().min(0).max(240),
    declared: declaredAnchorSchema.optional(),
  }),
  /** No computed demand: the row of IRC Table R602.3(1) or a rule of the code is the measure. */
  z.strictObject({ kind: z.literal('prescriptive') }),
]);
export type Basis = z.infer<typeof basisSchema>;

export const conditionsSchema = z.strictObject({
  madeWhen: z.enum(['dry', 'wet']),
  usedWhen: z.enum(['dry', 'wet']),
  /** Sustained, in use; the engine refuses what NDS Table 11.3.4 does not reach. */
  temperatureF: z.number().min(-60).max(500),
});

/**
 * One row of the nailing and fastener schedule: what joins what, how, and what it must carry. Plain data; all
 * results come from `judgeRow`.
 */
export const fasteningRowSchema = z
  .strictObject({
    id: z.string().regex(/^[a-z0-9][a-z0-9-]{0,40}$/),
    joint: jointSchema,
    /** 'Beam, full length', 'Left pack'. */
    where: z.string().min(1).max(120),
    /** From the head inwards. */
    members: z.array(rowMemberSchema).min(2).max(6),
    /** `through`: one fastener passes all pieces. `each to the next`: every piece is fastened to the one before. */
    layup: z.enum(['through', 'each to the next']),
    /** Sheathing, gypsum or a shim between the pieces, in; takes fastener length. */
    betweenIn: z.number().min(0).max(3),
    fastener: fastenerSchema,
    method: z.enum(['face', 'end', 'toe']),
    driven: z.enum(['one side', 'both sides', 'alternating sides']),
    pattern: patternSchema,
    /** From the edge of the outer piece to the first row, in. */
    edgeDistanceIn: z.number().min(0).max(60),
    /** From the end of the piece to the first fastener, in. */
    endDistanceIn: z.number().min(0).max(120),
    /** How the end of the piece is loaded by the fasteners. */
    endLoading: z.enum(['tension', 'compression', 'across grain']),
    /** Does the load run along the rows, or across them? */
    loadRuns: z.enum(['along rows', 'across rows']),
    prebored: z.boolean(),
    inDiaphragm: z.boolean(),
    conditions: conditionsSchema,
    demand: demandSchema,
    basis: basisSchema,
    prescriptiveItem: prescriptiveItemSchema.optional(),
    note: z.string().max(600),
  })
  .refine((row) => row.pattern.kind !== 'spaced' || row.demand.per !== 'joint', {
    path: ['demand'],
    message: 'A spaced pattern takes its demand per foot.',
  })
  .refine((row) => row.pattern.kind !== 'count' || row.demand.per !== 'foot', {
    path: ['demand'],
    message: 'A counted pattern takes its demand for the whole joint.',
  })
  .refine(
    (row) => row.method !== 'toe' || row.fastener.kind === 'nail' || row.fastener.kind === 'structural screw',
    {
      path: ['method'],
      message: 'Only nails and structural screws are driven as toe fasteners.',
    },
  )
  .refine(
    (row) => row.basis.kind !== 'yield limit' || row.basis.shear !== 'double' || row.members.length === 3,
    {
      path: ['basis'],
      message: 'Double shear takes three pieces: side, main, side.',
    },
  );

export type FasteningRow = z.infer<typeof fasteningRowSchema>;
