import { z } from 'zod';
import type { ItemKindDefinition } from '../definition.ts';

const line = (longest: number) => z.string().trim().min(1).max(longest);

/** A drawing as an item: which file, which revision. The file lies in the content-addressed store. */
export const drawingSchema = z.strictObject({
  name: line(120),
  revision: line(20),
  drawnOn: z.iso.date(),
  issuedBy: line(120),
  /** SHA-256 of the file, so that the approval is of these very bytes. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/, 'Upload the drawing first and choose it here.'),
  note: z.string().max(2000).optional(),
});

export type Drawing = z.infer<typeof drawingSchema>;

export const drawingKind: ItemKindDefinition<Drawing> = {
  kind: 'drawing',
  title: 'Drawing',
  reviewable: true,
  restsOnKinds: [],
  schema: drawingSchema,
  describe: (drawing) => [
    `${drawing.name}, revision ${drawing.revision}, ${drawing.drawnOn}`,
    `Issued by ${drawing.issuedBy}; file ${drawing.sha256.slice(0, 12)}`,
    ...(drawing.note === undefined ? [] : [drawing.note]),
  ],
  restsOn: () => [],
  calculate: () => null,
};
