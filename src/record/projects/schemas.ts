import { z } from 'zod';
import { timeZoneSchema } from './time-zones.ts';

const line = (what: string, longest: number) =>
  z.string().trim().min(1, `Enter ${what}.`).max(longest, `Use at most ${longest} characters.`);

export const projectSchema = z.object({
  name: line('a name for the job', 80),
  address: line('the address of the house', 200),
  jurisdiction: line('the city or county that issues the permit', 120),
  permitNumber: z.string().trim().max(60, 'Use at most 60 characters.').default(''),
  /** Not in a form that was kept since before houses had one: what it is stays then. */
  timeZone: timeZoneSchema.exactOptional(),
});

export type ProjectInput = z.infer<typeof projectSchema>;

export const openingSchema = z.object({ name: line('a name for the opening', 80) });
