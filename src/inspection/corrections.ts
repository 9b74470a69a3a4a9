import { Prisma, type PrismaClient } from '../database/generated/client.ts';
import type { ProjectViewer } from '../record/read-together.ts';
import { newestNow, statusesNow } from './load.ts';

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
 * Findings that may be corrections without an answer, with their `visit`: left out is what was looked at again since, as
 * the very version (or wording) that it was. Whether it is asked for now, only the list of the set in force says.
 */
const mayWait = Prisma.sql`
  finding
  JOIN visit ON visit.id = finding.visit_id
  JOIN "check" looked ON looked.id = finding.check_id
  WHERE finding.result = 'correction'
    AND NOT EXISTS (SELECT 1 FROM correction_answer WHERE correction_answer.finding_id = finding.id)
    AND NOT EXISTS (
      SELECT 1 FROM visit again
      JOIN finding later ON later.visit_id = again.id AND later.at > finding.at
      JOIN "check" same ON same.id = later.check_id
      WHERE again.opening_id = visit.opening_id
        AND same.key = looked.key AND same.version_id IS NOT DISTINCT FROM looked.version_id
    )`;

/** Titles of the checks of the set in force that are to be put right and wait for the contractor's answer. */
export async function unansweredCorrections(
  prisma: PrismaClient,
  viewer: ProjectViewer,
  openingId: string,
): Promise<string[]> {
  // Mostly there is none, and then the whole list need not be read for it.
  const some = await prisma.$queryRaw<object[]>`
    SELECT 1 FROM ${mayWait}
      AND finding.project_id = ${viewer.projectId}::uuid AND visit.opening_id = ${openingId}::uuid LIMIT 1`;
  return some.length === 0 ? [] : toPutRight(prisma, viewer, openingId);
}

/**
 * Corrections that wait for this contractor, oldest first, over all projects: one query where there is none, and the
 * list of each opening with some.
 *
 * @param limit openings at most
 */
export async function waitingCorrections(
  prisma: PrismaClient,
  personId: string,
  limit: number,
  viewerOf: (projectId: string) => ProjectViewer,
): Promise<WaitingCorrections[]> {
  const found = await prisma.$queryRaw<Omit<WaitingCorrections, 'titles'>[]>`
    WITH found AS (
      SELECT finding.project_id, visit.opening_id, min(finding.at) AS since FROM ${mayWait}
        AND finding.project_id IN (
          SELECT project_id FROM membership
          WHERE person_id = ${personId}::uuid AND revoked_at IS NULL AND role = 'contractor'
        )
      GROUP BY finding.project_id, visit.opening_id
    )
    SELECT found.project_id AS "projectId", opening.id AS "openingId", opening.name AS "openingName", found.since
    FROM found JOIN opening ON opening.id = found.opening_id
    ORDER BY found.since, opening.id LIMIT ${limit}`;
  const waiting: WaitingCorrections[] = [];
  // One opening after the other: whoever has many must not take every connection.
  for (const one of found) {
    const titles = await toPutRight(prisma, viewerOf(one.projectId), one.openingId);
    if (titles.length > 0) waiting.push({ ...one, titles });
  }
  return waiting;
}

async function toPutRight(prisma: PrismaClient, viewer: ProjectViewer, openingId: string): Promise<string[]> {
  const { set } = await newestNow(prisma, viewer, openingId);
  if (set === null) return [];
  const statuses = await statusesNow(prisma, viewer, openingId, set);
  return statuses
    .filter(({ state, finding }) => state === 'correction' && (finding?.answers.length ?? 0) === 0)
    .map(({ title }) => title);
}
