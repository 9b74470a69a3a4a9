import { z } from 'zod';
import type { PrismaClient } from '../../database/generated/client.ts';
import { namesOfPeople } from '../../people/names.ts';

type Reader = Pick<PrismaClient, 'holdAcceptance' | 'person'>;

/** A check as it was when the engineer let the step go on: another version is not covered. */
export const coveredSchema = z.array(z.strictObject({ key: z.string(), versionId: z.string() }));
export type Covered = z.infer<typeof coveredSchema>;

export interface Acceptance {
  readonly step: string;
  readonly basis: string;
  readonly byName: string;
  readonly at: Date;
  readonly covers: Covered;
}

/** What the engineer accepted in an opening, the latest first. */
export async function acceptancesOf(
  reader: Reader,
  projectId: string,
  openingId: string,
): Promise<Acceptance[]> {
  const rows = await reader.holdAcceptance.findMany({
    where: { projectId, openingId },
    orderBy: { at: 'desc' },
  });
  if (rows.length === 0) return [];
  const names = await namesOfPeople(
    reader,
    rows.map((row) => row.byId),
  );
  return rows.map(({ step, basis, byId, at, covers }) => ({
    step,
    basis,
    byName: names.get(byId) ?? '',
    at,
    covers: coveredSchema.parse(JSON.parse(covers)),
  }));
}
