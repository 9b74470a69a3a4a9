import { z } from 'zod';
import { fasteningRowSchema } from '../fasteners/index.ts';
import { criteriaSchema } from './criteria.ts';
import { beamSchema, footingSchema, shoringSchema, supportSchema } from './design.ts';
import { surveySchema } from './survey.ts';

/** One opening, whole: what `scripts/calc` reads. Lengths are inches, loads psf or lb as their names say. */
export const openingInputSchema = z.strictObject({
  criteria: criteriaSchema.describe('Code editions, climate, soil, limits'),
  survey: surveySchema.describe('What is there today: everything that bears on the wall'),
  beam: beamSchema.describe('The proposed beam'),
  supports: z.array(supportSchema).max(2).describe('Jacks and kings, or a post, at either end'),
  footings: z.array(footingSchema).max(2).default([]).describe('What is under each pack'),
  shoring: shoringSchema.optional().describe('The temporary walls'),
  rows: z.array(fasteningRowSchema).max(60).default([]).describe('Rows of the fastening schedule'),
});

export type OpeningInput = z.infer<typeof openingInputSchema>;
