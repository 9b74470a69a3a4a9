import type { PrismaClient } from '../database/generated/client.ts';
import { usualPlan, visitName } from './plan/plan.ts';

/** What an inspector begins the day from: a visit that was begun and is open, or one that a contractor called for. */
export interface WaitingVisit {
  readonly projectId: string;
  readonly openingId: string;
  readonly openingName: string;
  readonly address: string;
  /** As the project names it. */
  readonly title: string;
  /** Null where it was called for and not begun. */
  readonly visitId: string | null;
  readonly visitNumber: number | null;
  /** What the contractor wrote with the call; '' where nothing. */
  readonly note: string;
  readonly since: Date;
  /** Of all such visits, however many are listed. */
  readonly total: number;
}

/**
 * Open visits first, then calls that no visit has answered, oldest first, over all projects in which the person is
 * inspector. One query.
 */
export async function waitingVisits(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  personId: string,
  limit: number,
): Promise<WaitingVisit[]> {
  const rows = await prisma.$queryRaw<(WaitingVisit & { visitKey: string; planned: string | null })[]>`
    WITH mine AS (
      SELECT project_id FROM membership
      WHERE person_id = ${personId}::uuid AND revoked_at IS NULL AND role = 'inspector'
    ), begun AS (
      SELECT visit.id, visit.number, visit.project_id, visit.opening_id, visit.opened_at,
             CASE visit.kind WHEN 'local' THEN visit.local_visit ELSE visit.kind::text END AS visit_key,
             closing.visit_id IS NULL AS open
      FROM mine
      JOIN visit ON visit.project_id = mine.project_id
      LEFT JOIN visit_closing closing ON closing.visit_id = visit.id
    ), called AS (
      SELECT DISTINCT ON (call.opening_id, call.visit_key)
             call.project_id, call.opening_id, call.visit_key, call.note, call.at
      FROM mine
      JOIN visit_call call ON call.project_id = mine.project_id
      ORDER BY call.opening_id, call.visit_key, call.at DESC
    ), waiting AS (
      SELECT project_id, opening_id, visit_key, id AS visit_id, number, '' AS note, opened_at AS since
      FROM begun WHERE open
      UNION ALL
      SELECT project_id, opening_id, visit_key, NULL, NULL, note, at
      FROM called
      WHERE NOT EXISTS (
        SELECT 1 FROM begun
        WHERE begun.opening_id = called.opening_id AND begun.visit_key = called.visit_key
          AND (begun.open OR begun.opened_at > called.at)
      )
    )
    SELECT project.id AS "projectId", project.address, opening.id AS "openingId", opening.name AS "openingName",
           waiting.visit_key AS "visitKey", waiting.visit_id AS "visitId", waiting.number AS "visitNumber",
           waiting.note, waiting.since, plan.name AS planned, count(*) OVER ()::int AS total
    FROM waiting
    JOIN opening ON opening.id = waiting.opening_id
    JOIN project ON project.id = waiting.project_id
    LEFT JOIN LATERAL (
      SELECT planned ->> 'name' AS name
      FROM (SELECT content FROM inspection_plan
            WHERE project_id = waiting.project_id ORDER BY number DESC LIMIT 1) newest
      CROSS JOIN LATERAL jsonb_array_elements(newest.content::jsonb -> 'visits') planned
      WHERE planned ->> 'key' = waiting.visit_key
    ) plan ON true
    ORDER BY waiting.visit_id IS NULL, waiting.since, opening.id, waiting.visit_key LIMIT ${limit}`;
  return rows.map(({ visitKey, planned, ...row }) => ({
    ...row,
    title: planned ?? visitName(usualPlan, visitKey),
  }));
}
