import { z } from 'zod';

/** Programs show the code as "123 456": spaces do not count. */
export const codeSchema = z.object({
  code: z
    .string()
    .transform((text) => text.replace(/\s/g, ''))
    .pipe(z.string().regex(/^\d{6}$/, 'Enter the six figures that your program shows.')),
});

export const recoveryCodeSchema = z.object({
  recoveryCode: z
    .string()
    .trim()
    .min(1, 'Enter one of your recovery codes.')
    .max(80, 'A recovery code is shorter: seven groups of four.'),
});
