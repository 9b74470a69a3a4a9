import { z } from 'zod';
import { isKeepable } from '../../record/prose.ts';
import { itemParams } from './common.ts';

/** Words that a person gives with an act, as `prose` of the record takes them. */
export const proseSchema = z
  .string()
  .max(4000, 'Use at most 4000 characters.')
  .refine(isKeepable, 'It holds a character that can’t be kept.');

export const versionParams = itemParams.extend({
  number: z
    .string()
    .regex(/^[1-9]\d{0,8}$/)
    .describe('The number of the version.'),
});
