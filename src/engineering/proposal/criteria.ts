import { z } from 'zod';

/**
 * What the jurisdiction asks of the house: code editions, climate, soil, limits. One record for a project;
 * every opening of the project is judged by it.
 */
export const editionsSchema = z.strictObject({
  asce7: z.enum(['7-16', '7-22']).describe('Loads'),
  nds: z.enum(['2018', '2024']).describe('Wood'),
  irc: z.enum(['2018', '2021', '2024']).describe('The residential code adopted'),
  aci318: z.literal('318-19').describe('Concrete'),
  aisc360: z.enum(['360-16', '360-22']).describe('Steel'),
});

export const criteriaSchema = z.strictObject({
  editions: editionsSchema.describe('Editions the jurisdiction has adopted'),
  groundSnowPsf: z
    .number()
    .min(0)
    .max(500)
    .describe(
      'Ground snow load pg, psf, of the edition named: 7-22 maps are strength-level, 7-16 maps are not.',
    ),
  snowExposureFactor: z.number().min(0.7).max(1.2).describe('Exposure factor Ce, ASCE 7 Table 7.3-1.'),
  snowThermalFactor: z.number().min(0.85).max(1.3).describe('Thermal factor Ct, ASCE 7 Table 7.3-2.'),
  snowImportanceFactor: z
    .number()
    .min(0.8)
    .max(1.2)
    .describe('Importance factor Is, ASCE 7-16 Table 1.5-2; 7-22 has none and takes 1.0.'),
  winterWindParameter: z
    .number()
    .min(0.25)
    .max(0.65)
    .optional()
    .describe('Winter wind parameter W2, ASCE 7-22 Fig. 7.6-1 … ; used by 7-22 drift only.'),
  windUpliftPsf: z
    .number()
    .min(0)
    .max(200)
    .describe('Net roof uplift, psf, strength level (ASCE 7 ch. 26–30), zero where none is counted.'),
  windWallPsf: z
    .number()
    .min(0)
    .max(200)
    .describe('Lateral pressure on the walls, psf, strength level; loads the kings of an exterior wall.'),
  soilBearingPsf: z
    .number()
    .min(500)
    .max(12000)
    .describe('Allowable (or presumptive, IRC Table R401.4.1) soil bearing, psf.'),
  liveDeflectionRatio: z
    .number()
    .min(120)
    .max(1200)
    .describe('Span ÷ this = allowed deflection under live load (IRC Table R301.7).'),
  totalDeflectionRatio: z
    .number()
    .min(120)
    .max(1200)
    .describe('Span ÷ this = allowed deflection under all load, creep included.'),
  absoluteDeflectionIn: z
    .number()
    .positive()
    .max(4)
    .optional()
    .describe('An absolute limit on deflection under all load, in, where finishes ask for one.'),
});

export type Criteria = z.infer<typeof criteriaSchema>;
