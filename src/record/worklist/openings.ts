import type { PrismaClient } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import { factsQuery } from '../items/store.ts';
import type { Viewer } from './service.ts';

/** An opening in counts: what inspector and owner begin from. */
export interface OpeningProgress {
  readonly role: Role;
  readonly projectId: string;
  readonly projectName: string;
  readonly openingId: string;
  readonly openingName: string;
  /** Items that are marked, and how many of them the newest version is approved or revised of. */
  readonly items: number;
  readonly approved: number;
  readonly awaiting: number;
  readonly returned: number;
  /** The set in force; null where none was issued. */
  readonly setId: string | null;
  readonly setNumber: number | null;
  readonly setIssuedAt: Date | null;
}

/** Openings that the first page shows; every project's own page has all of its. */
export const OPENINGS_SHOWN = 30;

/** The openings of the projects in which the person is a member now, newest set first: the first `limit`. One query. */
export async function readOpenings(
  deps: { readonly prisma: PrismaClient; readonly kinds: KindRegistry },
  viewer: Viewer,
  limit = OPENINGS_SHOWN,
): Promise<readonly OpeningProgress[]> {
  const reviewable = deps.kinds.all.filter((kind) => kind.reviewable).map((kind) => kind.kind);
  return deps.prisma.$queryRaw<OpeningProgress[]>`
    WITH mine AS (
      SELECT project_id, role FROM membership WHERE person_id = ${viewer.personId}::uuid AND revoked_at IS NULL
    ), facts AS (
      ${factsQuery}
      WHERE i.project_id IN (SELECT project_id FROM mine) AND i.kind = ANY(${reviewable}::item_kind[])
    ), counts AS (
      SELECT opening_id, count(*)::int AS items,
             count(*) FILTER (WHERE word IN ('approved', 'revised'))::int AS approved,
             count(*) FILTER (WHERE word IS NULL AND version_id IS NOT NULL
                                AND (submitted_at IS NOT NULL OR author_role = 'engineer'))::int AS awaiting,
             count(*) FILTER (WHERE word IN ('returned', 'withdrawn'))::int AS returned
      FROM facts GROUP BY opening_id
    )
    SELECT mine.role::text AS role, project.id AS "projectId", project.name AS "projectName",
           opening.id AS "openingId", opening.name AS "openingName",
           COALESCE(counts.items, 0) AS items, COALESCE(counts.approved, 0) AS approved,
           COALESCE(counts.awaiting, 0) AS awaiting, COALESCE(counts.returned, 0) AS returned,
           latest.id AS "setId", latest.number AS "setNumber", latest.issued_at AS "setIssuedAt"
    FROM mine
    JOIN project ON project.id = mine.project_id
    JOIN opening ON opening.project_id = project.id
    LEFT JOIN counts ON counts.opening_id = opening.id
    LEFT JOIN LATERAL (
      SELECT id, number, issued_at FROM approved_set
      WHERE opening_id = opening.id ORDER BY number DESC LIMIT 1
    ) latest ON true
    ORDER BY latest.issued_at DESC NULLS LAST, project.name, opening.ordinal, opening.id
    LIMIT ${limit}`;
}
