import type { PrismaClient } from '../database/generated/client.ts';
import { unansweredCorrections } from './load.ts';

/** What the inspector found in one opening and nobody has answered. */
export interface WaitingCorrections {
  readonly projectId: string;
  readonly openingId: string;
  readonly openingName: string;
  /** What was looked at. */
  readonly titles: readonly string[];
  /** Of the first of them. */
  readonly since: Date;
}

/**
 * Corrections that wait for this contractor, oldest first, over all projects. One query where there is none; for each
 * opening with one that nobody answered, its list is read, since a later look may have passed it.
 */
export async function waitingCorrections(
  prisma: PrismaClient,
  personId: string,
  limit: number,
): Promise<WaitingCorrections[]> {
  const found = await prisma.$queryRaw<Omit<WaitingCorrections, 'titles'>[]>`
    SELECT finding.project_id AS "projectId", opening.id AS "openingId", opening.name AS "openingName",
           min(finding.at) AS since
    FROM membership mine
    JOIN finding ON finding.project_id = mine.project_id AND finding.result = 'correction'
    JOIN visit ON visit.id = finding.visit_id
    JOIN opening ON opening.id = visit.opening_id
    WHERE mine.person_id = ${personId}::uuid AND mine.revoked_at IS NULL AND mine.role = 'contractor'
      AND NOT EXISTS (SELECT 1 FROM correction_answer WHERE correction_answer.finding_id = finding.id)
    GROUP BY finding.project_id, opening.id
    ORDER BY since, opening.id LIMIT ${limit}`;
  const waiting: WaitingCorrections[] = [];
  for (const one of found) {
    const titles = await unansweredCorrections(prisma, one.projectId, one.openingId);
    if (titles.length > 0) waiting.push({ ...one, titles });
  }
  return waiting;
}
