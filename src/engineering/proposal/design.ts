import { z } from 'zod';
import { listingSchema } from '../fasteners/schedule/row.ts';

/**
 * What is proposed: the member, what it stands on, what stands under that. Species, grades and sizes are
 * names of src/engineering/materials; the engine refuses a name it does not hold.
 */
const speciesGrade = {
  species: z.string().min(1).max(40).describe('DF-L, SP, HF or SPF'),
  grade: z.string().min(1).max(40).describe('As on the stamp: Select Structural, No.1, No.2, No.3, Stud …'),
};

export const sawnMemberSchema = z.strictObject({
  kind: z.literal('sawn').describe('What it is made of'),
  ...speciesGrade,
  size: z
    .string()
    .regex(/^\d{1,2}x\d{1,2}$/)
    .describe('Nominal, ’2x10’, ’4x12’, ’6x10’.'),
  plies: z.number().int().min(1).max(5).describe('Pieces side by side'),
});

/** Structural composite lumber: a class of the catalogue, or a property sheet that the user declares. */
export const compositeMemberSchema = z.strictObject({
  kind: z.literal('composite').describe('What it is made of'),
  class: z
    .string()
    .min(1)
    .max(40)
    .describe('Class of the catalogue, LVL 2.0E, or the name of the declared product'),
  thicknessIn: z.number().min(0.75).max(7).describe('One ply.'),
  depthIn: z.number().min(3).max(36).describe('Depth, in'),
  plies: z.number().int().min(1).max(5).describe('Pieces side by side'),
  declared: z
    .strictObject({
      report: z.string().min(1).max(120).describe('Report or property sheet the values are from'),
      fbPsi: z.number().positive().max(10000).describe('Bending, psi'),
      fvPsi: z.number().positive().max(2000).describe('Shear, psi'),
      fcPerpPsi: z.number().positive().max(3000).describe('Compression across the grain, psi'),
      ePsi: z.number().positive().max(5e6).describe('E, psi'),
      eminPsi: z.number().positive().max(5e6).describe('E for stability, psi'),
      specificGravity: z.number().min(0.3).max(0.8).describe('For fasteners'),
      referenceDepthIn: z
        .number()
        .positive()
        .max(24)
        .describe('Volume (depth) factor (referenceDepthIn ÷ d)^exponent.'),
      depthExponent: z.number().min(0).max(1).describe('x of (reference depth ÷ d)^x'),
      densityPcf: z.number().min(20).max(60).describe('Weight, pcf'),
    })
    .optional()
    .describe('Values of a property sheet'),
});

export const glulamMemberSchema = z.strictObject({
  kind: z.literal('glulam').describe('What it is made of'),
  combination: z.string().min(1).max(40).describe('24F-V4 and the like'),
  widthIn: z.number().min(2).max(15).describe('Width across the wall, in'),
  depthIn: z.number().min(4).max(60).describe('Depth, in'),
});

export const steelMemberSchema = z.strictObject({
  kind: z.literal('steel').describe('What it is made of'),
  shape: z
    .string()
    .regex(/^W\d{1,2}x\d{1,3}$/)
    .describe('Wide flange, W8x18'),
  fyKsi: z.number().min(30).max(65).describe('Yield strength, ksi'),
});

export const flitchMemberSchema = z.strictObject({
  kind: z.literal('flitch').describe('What it is made of'),
  ...speciesGrade,
  size: z
    .string()
    .regex(/^\d{1,2}x\d{1,2}$/)
    .describe('Nominal size, 2x6'),
  woodPlies: z.number().int().min(2).max(4).describe('Plies of wood'),
  plateThicknessIn: z.number().min(0.1875).max(1).describe('One plate, in'),
  plateDepthIn: z.number().min(3).max(24).describe('In'),
  plates: z.number().int().min(1).max(3).describe('Steel plates between the plies'),
  boltDiameterIn: z.number().min(0.375).max(1).describe('In'),
  boltSpacingIn: z.number().min(2).max(48).describe('Center to center along the beam, in'),
  boltRows: z
    .union([z.literal(1), z.literal(2)])
    .optional()
    .describe('One row at mid-depth or two staggered near the plate’s edges; two if omitted.'),
  boltsAtEachEnd: z
    .number()
    .int()
    .min(1)
    .max(8)
    .optional()
    .describe('Over each support, beyond the field spacing; 2 if omitted.'),
  plateEnd: z
    .enum(['held short', 'on bearing plate'])
    .optional()
    .describe(
      'Does the plate stand on a bearing plate with the plies, or stop above the support? Held short if omitted.',
    ),
});

export const memberSchema = z.discriminatedUnion('kind', [
  sawnMemberSchema,
  compositeMemberSchema,
  glulamMemberSchema,
  steelMemberSchema,
  flitchMemberSchema,
]);

export const beamSchema = z.strictObject({
  placement: z
    .enum(['flush', 'dropped'])
    .describe('flush: joists hang from it; dropped: they run on over it'),
  member: memberSchema.describe('The member'),
  bearingLeftIn: z
    .number()
    .min(1)
    .max(24)
    .describe('Length of the beam on its left and right support, along the beam.'),
  bearingRightIn: z.number().min(1).max(24).describe('The same on the right support, in'),
  unbracedIn: z
    .number()
    .min(0)
    .max(1200)
    .optional()
    .describe(
      'Distance between points that hold the compression edge; omitted: the joist spacing of the survey.',
    ),
  endNotchIn: z
    .number()
    .min(0)
    .max(12)
    .optional()
    .describe('Notch in the tension or compression edge at an end, depth in; refused in the middle third.'),
  wet: z.boolean().optional().describe('Wet in service'),
});

const lumber = {
  ...speciesGrade,
  size: z
    .string()
    .regex(/^\d{1,2}x\d{1,2}$/)
    .describe('Nominal size, 2x6'),
};

/** Blocks on end through the floor under a pack. */
export const squashBlocksSchema = z.strictObject({
  ...lumber,
  count: z.number().int().min(1).max(8).describe('Number of blocks'),
  heightIn: z.number().min(1).max(36).describe('Depth of the floor that they bridge.'),
  on: z.strictObject(lumber).describe('The wood below that they stand on: sill, plate or girder.'),
  endDistanceIn: z
    .number()
    .min(0)
    .max(600)
    .describe('From the blocks to the nearer end of that wood; 0 at an end.'),
});

/** A post under a girder, below the pack: crawl space or basement. */
export const girderPostSchema = z.strictObject({
  ...lumber,
  heightIn: z.number().min(6).max(240).describe('Height, in'),
  girder: z
    .strictObject({ ...lumber, plies: z.number().int().min(1).max(5).describe('Pieces side by side') })
    .describe('The girder on the post'),
  girderEndDistanceIn: z.number().min(0).max(600).describe('From the post to the nearer end of the girder.'),
  offPostIn: z
    .number()
    .min(0)
    .max(240)
    .describe('From the pack’s middle to the post’s middle, along the girder.'),
});

/** Jacks and kings at one end of the beam, as one pack, or a solid post. */
export const supportSchema = z.strictObject({
  end: z.enum(['left', 'right']).describe('End of the beam'),
  kind: z.enum(['built-up', 'post']).describe('What it is made of'),
  ...speciesGrade,
  size: z
    .string()
    .regex(/^\d{1,2}x\d{1,2}$/)
    .describe('Nominal size, 2x6'),
  jacks: z.number().int().min(1).max(6).describe('Studs under the beam'),
  kings: z.number().int().min(0).max(4).describe('Full-height studs beside it'),
  heightIn: z.number().min(24).max(360).describe('Underside of beam to top of bottom plate.'),
  bracedWeakAxisIn: z
    .number()
    .min(1)
    .max(360)
    .optional()
    .describe(
      'Is the pack held sideways along the wall (sheathing, blocking)? Spacing of that, in; omitted: not held.',
    ),
  fastening: z
    .enum(['nailed', 'bolted', 'not qualifying'])
    .describe('How the plies are joined: NDS 15.3.3 nails, 15.3.4 bolts, or not qualifying.'),
  plateSpecies: z.string().min(1).max(40).describe('Plate under the pack: species'),
  plateGrade: z.string().min(1).max(40).describe('Plate under the pack: grade'),
  eccentricityIn: z
    .number()
    .min(0)
    .max(6)
    .optional()
    .describe('Load off the center of the pack, along the wall, in'),
  squashBlocks: squashBlocksSchema.optional().describe('Where the pack does not stand on concrete.'),
  girderPost: girderPostSchema.optional().describe('Under a girder, below the pack'),
});

/** What is under one pack: found, and if need be proposed. */
export const footingSchema = z.strictObject({
  end: z.enum(['left', 'right']).describe('End of the beam'),
  found: z.enum(['nothing known', 'plans', 'probed', 'cored']).describe('How the concrete is known'),
  foundWidthIn: z.number().min(0).max(240).describe('Width found, across the wall, in'),
  foundThicknessIn: z.number().min(0).max(60).describe('Thickness found, in'),
  postTensioned: z
    .enum(['no', 'yes', 'unknown'])
    .describe('Post-tensioned slabs are never cut on this program’s word.'),
  concretePsi: z.number().min(2000).max(8000).describe('Specified strength, psi'),
  pad: z
    .strictObject({
      widthIn: z.number().min(8).max(120).describe('Width across the wall, in'),
      lengthIn: z.number().min(8).max(120).describe('Length along the wall, in'),
      thicknessIn: z.number().min(6).max(48).describe('Thickness, in'),
    })
    .optional()
    .describe('A new pad'),
});

export const shoringSchema = z.strictObject({
  sides: z.enum(['both', 'front', 'rear']).describe('Where temporary walls stand'),
  offsetIn: z.number().min(6).max(96).describe('From the wall, in'),
  studSize: z
    .string()
    .regex(/^\d{1,2}x\d{1,2}$/)
    .describe('Nominal size, 2x4'),
  ...speciesGrade,
  studSpacingIn: z.number().min(4).max(48).describe('Center to center, in'),
  midHeightBracingIn: z
    .number()
    .min(0)
    .max(240)
    .describe('Spacing of the bracing that holds the studs about their weak axis; 0: none.'),
  topPlates: z.number().int().min(1).max(3).describe('Plates on top of the temporary studs'),
  soleOn: z.enum(['slab', 'joists across', 'joists along']).describe('What the temporary sole lies on'),
  storeysShored: z.number().int().min(1).max(4).describe('Storeys with temporary walls'),
  bracesRelanded: z.boolean().describe('Are roof braces set on strongbacks first?'),
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
