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
    ), shown AS (
      SELECT mine.role, project.id AS project_id, project.name AS project_name,
             opening.id AS opening_id, opening.name AS opening_name,
             latest.id AS set_id, latest.number AS set_number, latest.issued_at AS set_issued_at,
             row_number() OVER (ORDER BY latest.issued_at DESC NULLS LAST, project.name, opening.ordinal,
                                         opening.id) AS place
      FROM mine
      JOIN project ON project.id = mine.project_id
      JOIN opening ON opening.project_id = project.id
      LEFT JOIN LATERAL (
        SELECT id, number, issued_at FROM approved_set
        WHERE opening_id = opening.id ORDER BY number DESC LIMIT 1
      ) latest ON true
      ORDER BY place LIMIT ${limit}
    )
    SELECT shown.role::text AS role, shown.project_id AS "projectId", shown.project_name AS "projectName",
           shown.opening_id AS "openingId", shown.opening_name AS "openingName",
           counts.items, counts.approved, counts.awaiting, counts.returned,
           shown.set_id AS "setId", shown.set_number AS "setNumber", shown.set_issued_at AS "setIssuedAt"
    FROM shown
    -- Counted for what is shown and for nothing else.
    CROSS JOIN LATERAL (
      SELECT count(*)::int AS items,
             count(*) FILTER (WHERE word IN ('approved', 'revised'))::int AS approved,
             count(*) FILTER (WHERE word IS NULL AND version_id IS NOT NULL
                                AND (submitted_at IS NOT NULL OR author_role = 'engineer'))::int AS awaiting,
             count(*) FILTER (WHERE word IN ('returned', 'withdrawn'))::int AS returned
      FROM (
        ${factsQuery}
        WHERE i.opening_id = shown.opening_id AND i.kind = ANY(${reviewable}::item_kind[])
      ) facts
    ) counts
    ORDER BY shown.place`;
}
