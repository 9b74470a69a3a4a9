import { Prisma } from '../../database/generated/client.ts';
import type { Role } from '../roles.ts';

/** What one person is in one project now. */
export interface MembershipRow {
  readonly role: Role;
  /** The project's name. */
  readonly project: string;
  /** The zone of the house. */
  readonly timeZone: string;
  /** The last line of the project's log, where it was asked for. */
  readonly seen: number | null;
}

export interface AskedMembership {
  readonly projectId: string;
  /** With the last line of the log: what a page shows is no older than it. */
  readonly withSeen: boolean;
}

/**
 * The query for a `MembershipRow`, none where the person is no member (any more).
 *
 * @param personId a value, or the column of an outer query
 */
export function membershipRow(personId: Prisma.Sql, { projectId, withSeen }: AskedMembership): Prisma.Sql {
  // Two texts, not one with a condition in it: PostgreSQL would plan that one anew each time.
  const seen = withSeen
    ? Prisma.sql`(SELECT seq FROM event WHERE project_id = membership.project_id ORDER BY seq DESC LIMIT 1)`
    : Prisma.sql`NULL::integer`;
  return Prisma.sql`
    SELECT membership.role::text AS role, project.name AS project, project.time_zone AS "timeZone", ${seen} AS seen
    FROM membership JOIN project ON project.id = membership.project_id
    WHERE membership.person_id = ${personId} AND membership.project_id = ${projectId}::uuid
      AND membership.revoked_at IS NULL
    LIMIT 1`;
}

export interface Heads {
  readonly heads: string;
}

/**
 * The query for `Heads`: one text that changes whenever something is written in a project of this person, or their membership does: the
 * projects, each with the role and the last line of its log. Null without any.
 *
 * @param personId a value, or the column of an outer query
 */
export function headsOf(personId: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`
    SELECT string_agg(concat_ws(' ', mine.project_id, mine.role, last.seq), ',' ORDER BY mine.project_id) AS heads
    FROM membership mine
    LEFT JOIN LATERAL (
      SELECT seq FROM event WHERE project_id = mine.project_id ORDER BY seq DESC LIMIT 1
    ) last ON true
    WHERE mine.person_id = ${personId} AND mine.revoked_at IS NULL`;
}

export interface HeadOfProject {
  readonly projectId: string;
  readonly role: Role;
  /** The last line of its log; 0 before the first. */
  readonly seq: number;
}

/** The text of `headsOf` in its parts. */
export function readHeads(heads: string | null | undefined): HeadOfProject[] {
  return (heads ?? '').split(',').flatMap((project) => {
    const [projectId = '', role = '', seq = '0'] = project.split(' ');
    return projectId === '' ? [] : [{ projectId, role: role as Role, seq: Number(seq) }];
  });
}
