import { z } from 'zod';

export const shapes = ['pin', 'line', 'box', 'circle'] as const;
export type Shape = (typeof shapes)[number];

const percent = z.coerce
  .number('Write a number from 0 to 100.')
  .min(0, 'Write a number from 0 to 100.')
  .max(100, 'Write a number from 0 to 100.');

const place = {
  page: z.coerce.number().int().min(1).max(99_999),
  /** Of the page's width from its left edge, and of its height from its top. */
  leftPercent: percent,
  topPercent: percent,
  words: z
    .string()
    .transform((text) => text.replaceAll('\0', '').trim())
    .pipe(z.string().min(1, 'Write what is to be seen there.').max(2000, 'Use at most 2000 characters.')),
};

/** One state of a note on a file: where, what shape, what it says. A line, box or circle has a second corner. */
export const noteSchema = z.discriminatedUnion(
  'shape',
  [
    z.object({ shape: z.literal('pin'), ...place }),
    ...(['line', 'box', 'circle'] as const).map((shape) =>
      z.object({ shape: z.literal(shape), ...place, toLeftPercent: percent, toTopPercent: percent }),
    ),
  ],
  'Choose a shape.',
);

export type Note = z.infer<typeof noteSchema>;
