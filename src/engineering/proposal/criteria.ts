import { z } from 'zod';

/**
 * What the jurisdiction asks of the house: code editions, climate, soil, limits. One record for a project;
 * every opening of the project is judged by it.
 */
export const editionsSchema = z.strictObject({
  asce7: z.enum(['7-16', '7-22']),
  nds: z.enum(['2018', '2024']),
  irc: z.enum(['2018', '2021', '2024']),
  aci318: z.literal('318-19'),
  aisc360: z.enum(['360-16', '360-22']),
});

export const criteriaSchema = z.strictObject({
  editions: editionsSchema,
  /** Ground snow load pg, psf, of the edition named: 7-22 maps are strength-level, 7-16 maps are not. */
  groundSnowPsf: z.number().min(0).max(500),
  /** Exposure factor Ce, ASCE 7 Table 7.3-1. */
  snowExposureFactor: z.number().min(0.7).max(1.2),
  /** Thermal factor Ct, ASCE 7 Table 7.3-2. */
  snowThermalFactor: z.number().min(0.85).max(1.3),
  /** Importance factor Is, ASCE 7-16 Table 1.5-2; 7-22 has none and takes 1.0. */
  snowImportanceFactor: z.number().min(0.8).max(1.2),
  /** Winter wind parameter W2, ASCE 7-22 Fig. 7.6-1 … ; used by 7-22 drift only. */
  winterWindParameter: z.number().min(0.25).max(0.65).optional(),
  /** Net roof uplift, psf, strength level (ASCE 7 ch. 26–30), zero where none is counted. */
  windUpliftPsf: z.number().min(0).max(200),
  /** Lateral pressure on the walls, psf, strength level; loads the kings of an exterior wall. */
  windWallPsf: z.number().min(0).max(200),
  /** Allowable (or presumptive, IRC Table R401.4.1) soil bearing, psf. */
  soilBearingPsf: z.number().min(500).max(12000),
  /** Span ÷ this = allowed deflection under live load (IRC Table R301.7). */
  liveDeflectionRatio: z.number().min(120).max(1200),
  /** Span ÷ this = allowed deflection under all load, creep included. */
  totalDeflectionRatio: z.number().min(120).max(1200),
  /** An absolute limit on deflection under all load, in, where finishes ask for one. */
  absoluteDeflectionIn: z.number().positive().max(4).optional(),
});

export type Criteria = z.infer<typeof criteriaSchema>;
