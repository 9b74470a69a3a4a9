import { z } from 'zod';
import { keptContentSchema } from './references.ts';
import { hashSchema, idSchema, kindSchema, roleSchema, timeSchema } from './common.ts';

/** The forms of what the record answers with. Times are ISO 8601 in UTC. */
export const projectSchema = z.object({
  projectId: idSchema,
  name: z.string(),
  address: z.string(),
  jurisdiction: z.string(),
  permitNumber: z.string(),
  timeZone: z.string().describe('Of the house, as an IANA name; times in answers are UTC all the same.'),
  role: roleSchema.describe('Yours in this project.'),
  createdAt: timeSchema,
});

export const openingSchema = z.object({
  openingId: idSchema,
  ordinal: z.int(),
  name: z.string(),
  createdAt: timeSchema,
  newestSet: z.object({ setId: idSchema, number: z.int(), issuedAt: timeSchema }).nullable(),
});

export const markWordSchema = z.enum(['approved', 'revised', 'returned', 'withdrawn']);
export const markSchema = z.object({
  markId: idSchema,
  number: z.int(),
  word: markWordSchema,
  reason: z.string(),
  byName: z.string(),
  at: timeSchema,
});

export const itemSchema = z.object({
  itemId: idSchema,
  openingId: idSchema.nullable(),
  kind: kindSchema,
  key: z.string(),
  title: z.string(),
  reviewable: z.boolean(),
  state: z
    .enum([
      'empty',
      'basis',
      'not submitted',
      'awaiting mark',
      'approved',
      'revised',
      'returned',
      'withdrawn',
    ])
    .describe('Where its newest version stands.'),
  stale: z.array(z.string()).describe('What moved under it, a sentence each; empty where it is not stale.'),
  newest: z
    .object({
      versionId: idSchema,
      number: z.int(),
      hash: hashSchema,
      reason: z.string(),
      authorName: z.string(),
      authorRole: roleSchema,
      at: timeSchema,
    })
    .nullable(),
  submittedAt: timeSchema.nullable(),
  mark: markSchema.nullable().describe('The last word on the newest version.'),
});

export const versionLineSchema = z.object({
  versionId: idSchema,
  number: z.int(),
  hash: hashSchema,
  engineVersion: z.string(),
  reason: z.string(),
  authorName: z.string(),
  authorRole: roleSchema,
  at: timeSchema,
  submittedAt: timeSchema.nullable(),
  marks: z.array(markSchema),
});

/** What of a version never changes: its tag is as good as its hash. The words said on it stand in the list. */
export const versionSchema = z.object({
  itemId: idSchema,
  versionId: idSchema,
  number: z.int(),
  hash: hashSchema.describe('SHA-256 of what the version holds: what a mark names.'),
  engineVersion: z.string(),
  reason: z.string(),
  authorName: z.string(),
  authorRole: roleSchema,
  at: timeSchema,
  content: keptContentSchema,
  restsOn: z
    .array(z.unknown())
    .describe('The versions of other items that it was worked out from, with the figures taken from each.'),
  calculation: z.unknown().describe('Steps, checks with their clauses, notices and figures; null for none.'),
});

export const savedVersionSchema = versionSchema
  .pick({ itemId: true, versionId: true, number: true, hash: true })
  .extend({
    repeated: z.boolean().describe('The same save had come before; nothing was added.'),
    marked: z.literal('revised').nullable().describe('The engineer’s own version is marked with it.'),
  });

export const madeMarkSchema = z.object({
  markId: idSchema,
  versionId: idSchema,
  number: z.int(),
  word: markWordSchema,
  repeated: z.boolean().describe('The same word had come before; nothing was added.'),
});

export const setLineSchema = z.object({
  setId: idSchema,
  openingId: idSchema,
  number: z.int(),
  hash: hashSchema,
  note: z.string(),
  issuedAt: timeSchema,
  supersededBy: z.int().nullable().describe('The number of the newest set, where that is a later one.'),
  withdrawn: z.array(z.string()).describe('Entries whose approval was withdrawn since, a sentence each.'),
});

export const setSchema = setLineSchema.extend({
  content: z
    .looseObject({ format: z.literal(1), number: z.int(), entries: z.array(z.looseObject({})) })
    .describe('The frozen content that the hash covers: entries, gaps, bases, changes.'),
});

export const eventSchema = z.object({
  seq: z.int(),
  at: timeSchema,
  type: z.string(),
  actorName: z.string(),
  words: z.string().describe('The line of the log, in plain words.'),
  about: z.record(z.string(), z.string()).describe('The ids of what it is about, by their names.'),
  prevHash: hashSchema,
  hash: hashSchema,
});
