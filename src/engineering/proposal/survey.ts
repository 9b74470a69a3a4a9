import { z } from 'zod';

/**
 * What is there today. Positions run along the wall, inches from the datum. "Front" and "rear" are the two
 * faces of the wall, as the surveyor named them.
 */
const positionIn = z.number().min(0).max(2400);
const psf = z.number().min(0).max(500);

/** How an entry is known; assumed entries are listed for the engineer. */
export const evidenceSchema = z.enum(['measured', 'from plans', 'assumed']);

const named = {
  id: z.string().regex(/^[a-z0-9][a-z0-9-]{0,30}$/),
  label: z.string().min(1).max(80),
  evidence: evidenceSchema,
};

/** A run of joists or rafters that bears on the wall. A span of zero: nothing on that side. */
export const stripSchema = z.strictObject({
  ...named,
  carries: z.enum(['floor', 'ceiling', 'roof']),
  frontSpanIn: z.number().min(0).max(720),
  rearSpanIn: z.number().min(0).max(720),
  /** `lapped`: two simple spans. `continuous`: one length over the wall, shares by statics. */
  overWall: z.enum(['lapped', 'continuous']),
  spacingIn: z.number().min(1).max(96),
  /** Omitted: the whole wall. */
  fromIn: positionIn.optional(),
  toIn: positionIn.optional(),
  deadPsf: psf,
  /** Floor or attic live load, psf (IRC Table R301.5); zero for roofs, whose Lr and S are computed. */
  livePsf: psf,
  /** Roofs only: rise in 12. Dead load is then per square foot on the slope. */
  roofRiseIn12: z.number().min(0).max(24).optional(),
  /** Rafters hang lower at this wall than at the ridge by shape; the joists of a ceiling strip tie the rafters. */
  tiesRafters: z.boolean().optional(),
});

/** A wall that stands on the wall below. */
export const wallAboveSchema = z.strictObject({
  ...named,
  fromIn: positionIn,
  toIn: positionIn,
  heightIn: z.number().min(1).max(360),
  /** psf of wall face (ASCE 7 Table C3.1-1a); line load = psf × height. */
  deadPsf: psf,
});

/** A roof brace that lands on the wall (IRC R802.4.5). */
export const braceSchema = z.strictObject({
  ...named,
  side: z.enum(['front', 'rear']),
  positionIn,
  /** From the horizontal. */
  angleDeg: z.number().min(1).max(90),
  lengthIn: z.number().min(1).max(360),
  /** Plan (horizontal) area of roof that the brace carries. */
  tributaryFt2: z.number().min(0).max(2000),
  /**
   * Plan distance of the purlin from the eave wall. Omitted: drifted snow counts at its full depth over the
   * whole tributary area, because where that area lies is not known.
   */
  purlinFromEaveIn: z.number().min(0).max(1200).optional(),
});

/** A post or beam that lands on the wall, with its loads by kind, lb. */
export const landingSchema = z.strictObject({
  ...named,
  positionIn,
  deadLb: z.number().min(0).max(1e6),
  liveLb: z.number().min(0).max(1e6),
  roofLiveLb: z.number().min(0).max(1e6),
  snowLb: z.number().min(0).max(1e6),
  upliftLb: z.number().min(0).max(1e6),
});

/** The roof above, for braces and roof strips. */
export const roofSchema = z.strictObject({
  riseIn12: z.number().min(0).max(24),
  /** Horizontal eave-to-ridge distances. */
  frontEaveToRidgeIn: z.number().min(12).max(1200),
  rearEaveToRidgeIn: z.number().min(12).max(1200),
  deadOnSlopePsf: psf,
  slippery: z.boolean(),
});

export const surveySchema = z
  .strictObject({
    /** What the positions are measured from: "left cross wall, room face". */
    datum: z.string().min(1).max(120),
    wallLengthIn: z.number().min(12).max(2400),
    wallThicknessIn: z.number().min(2).max(24),
    wallHeightIn: z.number().min(48).max(360),
    /** Faces of the clear opening, from the datum. */
    openingFromIn: positionIn,
    openingToIn: positionIn,
    wallIsExterior: z.boolean(),
    below: z.enum(['slab', 'crawlspace', 'basement', 'framed floor']),
    /** Storeys that hang on this wall and must be shored. */
    storeysAbove: z.number().int().min(0).max(3),
    roof: roofSchema.optional(),
    strips: z.array(stripSchema).max(24),
    wallsAbove: z.array(wallAboveSchema).max(12),
    braces: z.array(braceSchema).max(40),
    landings: z.array(landingSchema).max(20),
    /** Depth available for a beam before it shows or blocks, in. */
    depthAvailableIn: z.number().min(3).max(60).optional(),
    note: z.string().max(4000).optional(),
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
