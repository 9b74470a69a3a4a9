import { z } from 'zod';
import { SQUARE } from '../../attachments/notes/squares.ts';
import { LARGEST_PICTURE_BYTES } from '../../attachments/pictures.ts';

/** Findings in one request; the phone sends more in several. */
export const FINDINGS_AT_ONCE = 25;
export const PHOTOS_OF_A_FINDING = 20;

const time = z.iso.datetime({ offset: true }).transform((text) => new Date(text));

/** A photo that will come on its own; its size is known, so that "whole or not at all" can be told. */
const announcedPhoto = z.strictObject({
  id: z.uuid(),
  name: z.string().min(1).max(500),
  bytes: z
    .number()
    .int()
    .min(1, 'A photo is empty.')
    .max(
      LARGEST_PICTURE_BYTES,
      `A photo is larger than ${LARGEST_PICTURE_BYTES / 1024 / 1024} MB, the most that is kept here.`,
    ),
});

export const phoneFindingSchema = z.strictObject({
  id: z.uuid(),
  checkId: z.uuid(),
  result: z.enum(['pass', 'correction', 'not_applicable'], 'The result is none of the three.'),
  reason: z.string().max(20_000),
  location: z.string().max(2000),
  /** A square of a drawing that the phone keeps; phones that kept a visit before there were squares send none. */
  place: z
    .strictObject({ sheetId: z.uuid(), square: z.string().regex(SQUARE, 'That is no square of a drawing.') })
    .nullable()
    .default(null),
  at: time,
  photos: z.array(announcedPhoto).max(PHOTOS_OF_A_FINDING, 'A finding takes at most 20 photos.'),
});

export type PhoneFindingSent = z.infer<typeof phoneFindingSchema>;

/** Findings are judged one by one: a bad one is answered and does not hold up the others. */
export const deliverySchema = z.strictObject({
  /** The id of the finding of this visit that the phone knows to have arrived last; null for its first. */
  after: z.uuid().nullable(),
  phoneNowAt: time,
  findings: z
    .array(z.looseObject({ id: z.uuid() }))
    .min(1)
    .max(FINDINGS_AT_ONCE),
});
