import { z } from 'zod';

const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** Names in a package: plain words in at most two folders, so that none can lead out of where it is unpacked. */
export const ENTRY_NAME = /^(?:[a-z0-9][a-z0-9_-]*\/){0,2}[a-z0-9][a-z0-9_.-]*$/;

export const MANIFEST = 'manifest.json';
export const SUMS = 'SHA256SUMS';

/** What a package says of itself: every file in it but the manifest and the list of sums, which follow it. */
export const manifestSchema = z.strictObject({
  format: z.literal(1),
  projectId: z.uuid(),
  projectName: z.string(),
  madeAt: z.iso.datetime(),
  /** The end of the log: kept elsewhere, it shows later whether the end was cut off. Null for a project without events. */
  head: z.strictObject({ seq: z.int().positive(), hash }).nullable(),
  /** How many rows each table has. */
  rows: z.record(z.string(), z.int().nonnegative()),
  entries: z.array(
    z.strictObject({ name: z.string().regex(ENTRY_NAME), bytes: z.int().nonnegative(), sha256: hash }),
  ),
});

export type Manifest = z.infer<typeof manifestSchema>;
export type ManifestEntry = Manifest['entries'][number];

/** The list as `sha256sum -c` reads it. */
export function sumsOf(entries: readonly { readonly name: string; readonly sha256: string }[]): string {
  return entries.map(({ name, sha256 }) => `${sha256}  ${name}\n`).join('');
}
