import { z } from 'zod';
import { listingSchema } from '../fasteners/schedule/row.ts';

/**
 * What is proposed: the member, what it stands on, what stands under that. Species, grades and sizes are
 * names of src/engineering/materials; the engine refuses a name it does not hold.
 */
const speciesGrade = { species: z.string().min(1).max(40), grade: z.string().min(1).max(40) };

export const sawnMemberSchema = z.strictObject({
  kind: z.literal('sawn'),
  ...speciesGrade,
  /** Nominal, '2x10', '4x12', '6x10'. */
  size: z.string().regex(/^\d{1,2}x\d{1,2}$/),
  plies: z.number().int().min(1).max(5),
});

/** Structural composite lumber: a class of the catalogue, or a property sheet that the user declares. */
export const compositeMemberSchema = z.strictObject({
  kind: z.literal('composite'),
  class: z.string().min(1).max(40),
  /** One ply. */
  thicknessIn: z.number().min(0.75).max(7),
  depthIn: z.number().min(3).max(36),
  plies: z.number().int().min(1).max(5),
  declared: z
    .strictObject({
      report: z.string().min(1).max(120),
      fbPsi: z.number().positive().max(10000),
      fvPsi: z.number().positive().max(2000),
      fcPerpPsi: z.number().positive().max(3000),
      ePsi: z.number().positive().max(5e6),
      eminPsi: z.number().positive().max(5e6),
      specificGravity: z.number().min(0.3).max(0.8),
      /** Volume (depth) factor (referenceDepthIn ÷ d)^exponent. */
      referenceDepthIn: z.number().positive().max(24),
      depthExponent: z.number().min(0).max(1),
      densityPcf: z.number().min(20).max(60),
    })
    .optional(),
});

export const glulamMemberSchema = z.strictObject({
  kind: z.literal('glulam'),
  combination: z.string().min(1).max(40),
  widthIn: z.number().min(2).max(15),
  depthIn: z.number().min(4).max(60),
});

export const steelMemberSchema = z.strictObject({
  kind: z.literal('steel'),
  shape: z.string().regex(/^W\d{1,2}x\d{1,3}$/),
  fyKsi: z.number().min(30).max(65),
});

export const flitchMemberSchema = z.strictObject({
  kind: z.literal('flitch'),
  ...speciesGrade,
  size: z.string().regex(/^\d{1,2}x\d{1,2}$/),
  woodPlies: z.number().int().min(2).max(4),
  plateThicknessIn: z.number().min(0.1875).max(1),
  plateDepthIn: z.number().min(3).max(24),
  plates: z.number().int().min(1).max(3),
  boltDiameterIn: z.number().min(0.375).max(1),
  boltSpacingIn: z.number().min(2).max(48),
  /** One row at mid-depth or two staggered near the plate's edges; two if omitted. */
  boltRows: z.union([z.literal(1), z.literal(2)]).optional(),
  /** Over each support, beyond the field spacing; 2 if omitted. */
  boltsAtEachEnd: z.number().int().min(1).max(8).optional(),
  /** Does the plate stand on a bearing plate with the plies, or stop above the support? Held short if omitted. */
  plateEnd: z.enum(['held short', 'on bearing plate']).optional(),
});

export const memberSchema = z.discriminatedUnion('kind', [
  sawnMemberSchema,
  compositeMemberSchema,
  glulamMemberSchema,
  steelMemberSchema,
  flitchMemberSchema,
]);

export const beamSchema = z.strictObject({
  placement: z.enum(['flush', 'dropped']),
  member: memberSchema,
  /** Length of the beam on its left and right support, along the beam. */
  bearingLeftIn: z.number().min(1).max(24),
  bearingRightIn: z.number().min(1).max(24),
  /** Distance between points that hold the compression edge; omitted: the joist spacing of the survey. */
  unbracedIn: z.number().min(0).max(1200).optional(),
  /** Notch in the tension or compression edge at an end, depth in; refused in the middle third. */
  endNotchIn: z.number().min(0).max(12).optional(),
  wet: z.boolean().optional(),
});

const lumber = { ...speciesGrade, size: z.string().regex(/^\d{1,2}x\d{1,2}$/) };

/** Blocks on end through the floor under a pack. */
export const squashBlocksSchema = z.strictObject({
  ...lumber,
  count: z.number().int().min(1).max(8),
  /** Depth of the floor that they bridge. */
  heightIn: z.number().min(1).max(36),
  /** The wood below that they stand on: sill, plate or girder. */
  on: z.strictObject(lumber),
  /** From the blocks to the nearer end of that wood; 0 at an end. */
  endDistanceIn: z.number().min(0).max(600),
});

/** A post under a girder, below the pack: crawl space or basement. */
export const girderPostSchema = z.strictObject({
  ...lumber,
  heightIn: z.number().min(6).max(240),
  girder: z.strictObject({ ...lumber, plies: z.number().int().min(1).max(5) }),
  /** From the post to the nearer end of the girder. */
  girderEndDistanceIn: z.number().min(0).max(600),
  /** From the pack's middle to the post's middle, along the girder. */
  offPostIn: z.number().min(0).max(240),
});

/** Jacks and kings at one end of the beam, as one pack, or a solid post. */
export const supportSchema = z.strictObject({
  end: z.enum(['left', 'right']),
  kind: z.enum(['built-up', 'post']),
  ...speciesGrade,
  size: z.string().regex(/^\d{1,2}x\d{1,2}$/),
  jacks: z.number().int().min(1).max(6),
  kings: z.number().int().min(0).max(4),
  /** Underside of beam to top of bottom plate. */
  heightIn: z.number().min(24).max(360),
  /** Is the pack held sideways along the wall (sheathing, blocking)? Spacing of that, in; omitted: not held. */
  bracedWeakAxisIn: z.number().min(1).max(360).optional(),
  /** How the plies are joined: NDS 15.3.3 nails, 15.3.4 bolts, or not qualifying. */
  fastening: z.enum(['nailed', 'bolted', 'not qualifying']),
  plateSpecies: z.string().min(1).max(40),
  plateGrade: z.string().min(1).max(40),
  eccentricityIn: z.number().min(0).max(6).optional(),
  /** Where the pack does not stand on concrete. */
  squashBlocks: squashBlocksSchema.optional(),
  girderPost: girderPostSchema.optional(),
});

/** What is under one pack: found, and if need be proposed. */
export const footingSchema = z.strictObject({
  end: z.enum(['left', 'right']),
  found: z.enum(['nothing known', 'plans', 'probed', 'cored']),
  foundWidthIn: z.number().min(0).max(240),
  foundThicknessIn: z.number().min(0).max(60),
  /** Post-tensioned slabs are never cut on this program's word. */
  postTensioned: z.enum(['no', 'yes', 'unknown']),
  concretePsi: z.number().min(2000).max(8000),
  pad: z
    .strictObject({
      widthIn: z.number().min(8).max(120),
      lengthIn: z.number().min(8).max(120),
      thicknessIn: z.number().min(6).max(48),
    })
    .optional(),
});

export const shoringSchema = z.strictObject({
  sides: z.enum(['both', 'front', 'rear']),
  offsetIn: z.number().min(6).max(96),
  studSize: z.string().regex(/^\d{1,2}x\d{1,2}$/),
  ...speciesGrade,
  studSpacingIn: z.number().min(4).max(48),
  /** Spacing of the bracing that holds the studs about their weak axis; 0: none. */
  midHeightBracingIn: z.number().min(0).max(240),
  topPlates: z.number().int().min(1).max(3),
  soleOn: z.enum(['slab', 'joists across', 'joists along']),
  storeysShored: z.number().int().min(1).max(4),
  bracesRelanded: z.boolean(),
});

/**
 * One line of joist hangers, all alike, on one face of a flush beam: the joists that hang there, the nails that will be
 * driven, and the listing that stands behind the hanger, as the user copies it from the report.
 */
export const hangerSchema = z.strictObject({
  side: z.enum(['front', 'rear']),
  joistSize: z.string().regex(/^\d{1,2}x\d{1,2}$/),
  /** Of the joists along the beam. */
  spacingIn: z.number().min(4).max(96),
  /** Nails through one hanger, face and joist together. */
  nailCount: z.number().int().min(1).max(200),
  nailDiameterIn: z.number().min(0.09).max(0.375),
  nailLengthIn: z.number().min(1).max(8),
  /** Left out until the hanger is chosen: there is a demand then and no capacity. */
  listing: listingSchema.optional(),
  note: z.string().max(600).optional(),
});

export type Member = z.infer<typeof memberSchema>;
export type SawnMember = z.infer<typeof sawnMemberSchema>;
export type CompositeMember = z.infer<typeof compositeMemberSchema>;
export type GlulamMember = z.infer<typeof glulamMemberSchema>;
export type SteelMember = z.infer<typeof steelMemberSchema>;
export type FlitchMember = z.infer<typeof flitchMemberSchema>;
export type Beam = z.infer<typeof beamSchema>;
export type Support = z.infer<typeof supportSchema>;
export type Footing = z.infer<typeof footingSchema>;
export type Shoring = z.infer<typeof shoringSchema>;
export type Hanger = z.infer<typeof hangerSchema>;
