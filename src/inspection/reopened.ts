import type { PrismaClient } from '../database/generated/client.ts';
import { movedOn } from './held-besides.ts';

/** A step that items hold back which were looked at before, and changed since. */
export interface ReopenedStep {
  readonly projectId: string;
  readonly projectName: string;
  readonly openingId: string;
  readonly openingName: string;
  readonly step: string;
  /** Titles, along the load path. */
  readonly items: readonly string[];
  /** Of the last word that reopened one. */
  readonly since: Date;
  /** Of all such steps, however many are listed. */
  readonly total: number;
}

/**
 * The steps that are held again, in every project in which the person works, last one first: checks that are open
 * although their item passed or failed in an earlier version, and passed items on which the engineer's word has gone
 * on. One query.
 */
export async function reopenedSteps(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  personId: string,
  limit: number,
): Promise<ReopenedStep[]> {
  return prisma.$queryRaw<ReopenedStep[]>`
    WITH mine AS (
      SELECT project_id FROM membership
      WHERE person_id = ${personId}::uuid AND revoked_at IS NULL
        AND role IN ('contractor', 'engineer', 'inspector')
    ), newest AS (
      SELECT s.id, s.opening_id, s.project_id FROM mine
      JOIN opening ON opening.project_id = mine.project_id
      JOIN LATERAL (
        SELECT id, opening_id, project_id FROM approved_set
        WHERE opening_id = opening.id ORDER BY number DESC LIMIT 1
      ) s ON true
      WHERE EXISTS (SELECT 1 FROM finding WHERE finding.project_id = mine.project_id)
    ), again AS (
      SELECT n.opening_id, c.hold_point, i.id AS item_id, said.at
      FROM newest n
      JOIN "check" c ON c.set_id = n.id AND c.hold_point <> ''
      JOIN version v ON v.id = c.version_id
      JOIN item i ON i.id = v.item_id
      JOIN LATERAL (SELECT at FROM mark WHERE version_id = v.id ORDER BY number DESC LIMIT 1) said ON true
      WHERE EXISTS (SELECT 1 FROM "check" other JOIN finding ON finding.check_id = other.id
                    WHERE other.key = c.key AND other.version_id <> c.version_id)
        AND NOT EXISTS (SELECT 1 FROM "check" same JOIN finding ON finding.check_id = same.id
                        WHERE same.key = c.key AND same.version_id = c.version_id)
      UNION
      SELECT n.opening_id, c.hold_point, i.id, GREATEST(last.at, later.at)
      FROM newest n
      JOIN set_entry e ON e.set_id = n.id
      JOIN item i ON i.id = e.item_id
      JOIN version v ON v.id = e.version_id
      ${movedOn.withdrawal} ${movedOn.later}
      JOIN "check" c ON c.set_id = n.id AND c.version_id = v.id AND c.hold_point <> ''
      WHERE (last.word IS NOT NULL OR later.number IS NOT NULL)
        AND EXISTS (SELECT 1 FROM "check" same JOIN finding ON finding.check_id = same.id
                    WHERE same.key = c.key AND same.version_id = c.version_id)
    ), steps AS (
      SELECT opening_id, hold_point, max(at) AS since, array_agg(DISTINCT item_id) AS item_ids
      FROM again GROUP BY opening_id, hold_point
    )
    SELECT project.id AS "projectId", project.name AS "projectName", opening.id AS "openingId",
           opening.name AS "openingName", steps.hold_point AS step, steps.since,
           array(SELECT title FROM item WHERE item.id = ANY(steps.item_ids)
                 ORDER BY item.kind, list_key(item.key), item.key LIMIT 20) AS items,
           count(*) OVER ()::int AS total
    FROM steps
    JOIN opening ON opening.id = steps.opening_id
    JOIN project ON project.id = opening.project_id
    ORDER BY steps.since DESC, opening.id, steps.hold_point LIMIT ${limit}`;
}
