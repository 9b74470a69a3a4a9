import { z } from 'zod';
import { hashSchema, idSchema, timeSchema } from './common.ts';

/** The forms of what is told of inspections and deliveries. */
export const resultSchema = z.enum(['pass', 'correction', 'not_applicable']);
export const visitKindSchema = z.enum([
  'shoring',
  'footing',
  'framing',
  'electrical',
  'cover',
  'local',
  'final',
]);

export const findingSchema = z.object({
  findingId: idSchema,
  checkId: idSchema,
  visitNumber: z.int(),
  setNumber: z.int(),
  result: resultSchema,
  reason: z.string(),
  location: z.string(),
  byName: z.string(),
  at: timeSchema,
  answers: z.array(z.object({ answerId: idSchema, note: z.string(), byName: z.string(), at: timeSchema })),
});

export const checkSchema = z.object({
  checkId: idSchema,
  ordinal: z.int(),
  visitKind: visitKindSchema,
  title: z.string(),
  criterion: z.string(),
  clause: z.string(),
  howToLook: z.string(),
  photoRequired: z.boolean(),
  holdPoint: z.string().describe('The step that waits for it; empty where none does.'),
  about: z.string(),
  state: z.enum(['open', 'pass', 'correction', 'not_applicable']),
  finding: findingSchema.nullable().describe('The finding that speaks.'),
  carriedFromSet: z.int().nullable(),
  reopened: z.string().nullable().describe('Why an earlier finding no longer counts.'),
});

export const checklistSchema = z.object({
  setId: idSchema,
  number: z.int(),
  hash: hashSchema,
  newestNumber: z.int(),
  checks: z.array(checkSchema),
});

export const visitSchema = z.object({
  visitId: idSchema,
  openingId: idSchema,
  setNumber: z.int(),
  number: z.int(),
  kind: visitKindSchema,
  name: z.string(),
  openedAt: timeSchema,
  closing: z
    .object({
      outcome: z.enum(['passed', 'partial', 'correction_needed', 'not_ready', 'no_access', 'stop_work']),
      portion: z.string().describe('For a partial pass: what may go on.'),
      summary: z.string(),
      signedName: z.string(),
      closedAt: timeSchema,
    })
    .nullable(),
});

export const visitWithFindingsSchema = visitSchema.extend({ findings: z.array(findingSchema) });

export const placedFindingSchema = z.object({
  findingId: idSchema,
  repeated: z.boolean().describe('It had come before under this clientKey; nothing was added.'),
});

const goodsSchema = z.looseObject({}).describe('What it is: piece, size, grade, length, by its sort.');
export const deliverySchema = z.object({
  deliveryId: idSchema,
  number: z.int(),
  yard: z.string(),
  note: z.string(),
  byName: z.string(),
  at: timeSchema,
  lines: z.array(
    z.object({
      deliveryLineId: idSchema,
      setNumber: z.int(),
      lineId: z.string(),
      goods: goodsSchema,
      calledFor: goodsSchema,
      count: z.number().describe('Pieces, or what the goods are counted in.'),
      offGround: z.boolean(),
      covered: z.boolean(),
      foundThen: z.array(z.string()).describe('How it differed when it came; empty where it matched.'),
      note: z.string(),
      at: timeSchema,
      withdrawal: z
        .object({ reason: z.enum(['sent_back', 'entered_wrongly']), note: z.string(), at: timeSchema })
        .nullable(),
    }),
  ),
});
