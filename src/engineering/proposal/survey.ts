import { z } from 'zod';

/**
 * What is there today. Positions run along the wall, inches from the datum. "Front" and "rear" are the two
 * faces of the wall, as the surveyor named them.
 */
const positionIn = z.number().min(0).max(2400).describe('Inches from the datum, along the wall');
const psf = z.number().min(0).max(500).describe('Pounds per square foot');

/** How an entry is known; assumed entries are listed for the engineer. */
export const evidenceSchema = z
  .enum(['measured', 'from plans', 'assumed'])
  .describe('How the entry is known; assumed ones are listed for the engineer');

const named = {
  id: z
    .string()
    .regex(/^[a-z0-9][a-z0-9-]{0,30}$/)
    .describe('Short name, no two alike: small letters, digits, dashes'),
  label: z.string().min(1).max(80).describe('What it is, in words'),
  evidence: evidenceSchema,
};

/** A run of joists or rafters that bears on the wall. A span of zero: nothing on that side. */
export const stripSchema = z.strictObject({
  ...named,
  carries: z.enum(['floor', 'ceiling', 'roof']).describe('What the joists or rafters carry'),
  frontSpanIn: z.number().min(0).max(720).describe('Span on the front side, in; 0: nothing there'),
  rearSpanIn: z.number().min(0).max(720).describe('Span on the rear side, in; 0: nothing there'),
  overWall: z
    .enum(['lapped', 'continuous'])
    .describe('`lapped`: two simple spans. `continuous`: one length over the wall, shares by statics.'),
  spacingIn: z.number().min(1).max(96).describe('Center to center, in'),
  fromIn: positionIn.optional().describe('Omitted: the whole wall.'),
  toIn: positionIn.optional(),
  deadPsf: psf,
  livePsf: psf.describe(
    'Floor or attic live load, psf (IRC Table R301.5); zero for roofs, whose Lr and S are computed.',
  ),
  roofRiseIn12: z
    .number()
    .min(0)
    .max(24)
    .optional()
    .describe('Roofs only: rise in 12. Dead load is then per square foot on the slope.'),
  tiesRafters: z
    .boolean()
    .optional()
    .describe(
      'Rafters hang lower at this wall than at the ridge by shape; the joists of a ceiling strip tie the rafters.',
    ),
});

/** A wall that stands on the wall below. */
export const wallAboveSchema = z.strictObject({
  ...named,
  fromIn: positionIn,
  toIn: positionIn,
  heightIn: z.number().min(1).max(360).describe('Height, in'),
  deadPsf: psf.describe('psf of wall face (ASCE 7 Table C3.1-1a); line load = psf × height.'),
});

/** A roof brace that lands on the wall (IRC R802.4.5). */
export const braceSchema = z.strictObject({
  ...named,
  side: z.enum(['front', 'rear']).describe('Which slope it comes from'),
  positionIn,
  angleDeg: z.number().min(1).max(90).describe('From the horizontal.'),
  lengthIn: z.number().min(1).max(360).describe('Length, in'),
  tributaryFt2: z
    .number()
    .min(0)
    .max(2000)
    .describe('Plan (horizontal) area of roof that the brace carries.'),
  purlinFromEaveIn: z
    .number()
    .min(0)
    .max(1200)
    .optional()
    .describe(
      'Plan distance of the purlin from the eave wall, in. Omitted: drifted snow counts at its full depth over the whole tributary area, because where that area lies is not known.',
    ),
});

/** A post or beam that lands on the wall, with its loads by kind, lb. */
export const landingSchema = z.strictObject({
  ...named,
  positionIn,
  deadLb: z.number().min(0).max(1e6).describe('Dead load, lb'),
  liveLb: z.number().min(0).max(1e6).describe('Floor live load, lb'),
  roofLiveLb: z.number().min(0).max(1e6).describe('Roof live load, lb'),
  snowLb: z.number().min(0).max(1e6).describe('Snow, lb, as the edition of ASCE 7 gives it'),
  upliftLb: z.number().min(0).max(1e6).describe('Wind uplift, lb, strength level'),
});

/** The roof above, for braces and roof strips. */
export const roofSchema = z.strictObject({
  riseIn12: z.number().min(0).max(24).describe('Inches of rise in 12 of run'),
  frontEaveToRidgeIn: z.number().min(12).max(1200).describe('Horizontal eave-to-ridge distances.'),
  rearEaveToRidgeIn: z.number().min(12).max(1200).describe('Horizontal, in'),
  deadOnSlopePsf: psf,
  slippery: z.boolean().describe('Metal, slate or the like (ASCE 7 7.4)'),
});

export const surveySchema = z
  .strictObject({
    datum: z
      .string()
      .min(1)
      .max(120)
      .describe('What the positions are measured from: "left cross wall, room face".'),
    wallLengthIn: z.number().min(12).max(2400).describe('Length of the wall, in'),
    wallThicknessIn: z.number().min(2).max(24).describe('Depth of its studs across the wall, in'),
    wallHeightIn: z.number().min(48).max(360).describe('Floor to underside of what bears on it, in'),
    openingFromIn: positionIn.describe('Faces of the clear opening, from the datum.'),
    openingToIn: positionIn,
    wallIsExterior: z.boolean().describe('Does wind press on it?'),
    below: z.enum(['slab', 'crawlspace', 'basement', 'framed floor']).describe('What is under the wall'),
    storeysAbove: z
      .number()
      .int()
      .min(0)
      .max(3)
      .describe('Storeys that hang on this wall and must be shored.'),
    roof: roofSchema.optional().describe('The roof above'),
    strips: z.array(stripSchema).max(24).describe('Joists and rafters that bear on the wall'),
    wallsAbove: z.array(wallAboveSchema).max(12).describe('Walls that stand on it'),
    braces: z.array(braceSchema).max(40).describe('Roof braces that land on it'),
    landings: z.array(landingSchema).max(20).describe('Posts and beams that land on it'),
    depthAvailableIn: z
      .number()
      .min(3)
      .max(60)
      .optional()
      .describe('Depth available for a beam before it shows or blocks, in.'),
    note: z.string().max(4000).optional().describe('Anything else'),
  })
  .refine((s) => s.openingToIn > s.openingFromIn, {
    path: ['openingToIn'],
    message: 'The right face of the opening must lie right of the left face.',
  })
  .refine((s) => s.openingToIn <= s.wallLengthIn, {
    path: ['openingToIn'],
    message: 'The opening reaches past the end of the wall.',
  })
  .refine((s) => s.braces.length === 0 || s.roof !== undefined, {
    path: ['roof'],
    message: 'Roof braces need the roof they hold up: pitch, spans and weight.',
  });

export type Survey = z.infer<typeof surveySchema>;
export type Strip = z.infer<typeof stripSchema>;
export type WallAbove = z.infer<typeof wallAboveSchema>;
export type Brace = z.infer<typeof braceSchema>;
export type Landing = z.infer<typeof landingSchema>;
export type Roof = z.infer<typeof roofSchema>;
