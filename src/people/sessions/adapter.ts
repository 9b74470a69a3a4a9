import { createHash } from 'node:crypto';
import type { Adapter, DatabaseSession, DatabaseUser } from 'lucia';
import { Prisma, type PrismaClient } from '../../database/generated/client.ts';
import type { Heads, MembershipRow } from '../memberships/membership-row.ts';

/**
 * Lucia's seven-method adapter on Prisma. The table holds a hash of the id, never the id of the cookie, so a
 * stolen copy of it signs nobody in; the caller's own id is handed back, so that later calls hash just once.
 */
export function hashSessionId(sessionId: string): string {
  return createHash('sha256').update(sessionId).digest('hex');
}

/** Read of the session's person (`person.id`) in the query that finds the session: every page asks it. */
export interface Beside {
  readonly columns: Prisma.Sql;
  readonly joins: Prisma.Sql;
}

/** What a `Beside` may read. A membership that is not there is a row of nulls. */
export type ReadBeside = {
  readonly [Key in keyof (MembershipRow & Heads)]?: (MembershipRow & Heads)[Key] | null | undefined;
};

const NOTHING: Beside = { columns: Prisma.empty, joins: Prisma.empty };

interface SessionRow {
  personId: string;
  createdAt: Date;
  expiresAt: Date;
  lastSeenAt: Date;
  browser: string;
}

function toDatabaseSession(id: string, row: SessionRow): DatabaseSession {
  const { personId, expiresAt, createdAt, lastSeenAt, browser } = row;
  return { id, userId: personId, expiresAt, attributes: { createdAt, lastSeenAt, browser } };
}

export function createSessionAdapter(prisma: PrismaClient, beside = NOTHING): Adapter {
  return {
    async getSessionAndUser(sessionId): Promise<[DatabaseSession | null, DatabaseUser | null]> {
      // One query: every page asks it.
      const [row] = await prisma.$queryRaw<
        (SessionRow & ReadBeside & { name: string; email: string | null })[]
      >`
        SELECT session.person_id AS "personId", session.created_at AS "createdAt",
               session.expires_at AS "expiresAt", session.last_seen_at AS "lastSeenAt", session.browser,
               person.name, person.email ${beside.columns}
        FROM session JOIN person ON person.id = session.person_id ${beside.joins}
        WHERE session.id = ${hashSessionId(sessionId)} AND person.closed_at IS NULL`;
      if (row === undefined) return [null, null];
      const { personId, name, email, role, project, timeZone, seen, heads } = row;
      const attributes = { name, email: email ?? '', beside: { role, project, timeZone, seen, heads } };
      return [toDatabaseSession(sessionId, row), { id: personId, attributes }];
    },
    /** The ids are not known here any more, only their hashes: enough to count and to delete. */
    async getUserSessions(userId) {
      const rows = await prisma.session.findMany({ where: { personId: userId } });
      return rows.map((row) => toDatabaseSession(row.id, row));
    },
    async setSession(session) {
      await prisma.session.create({
        data: {
          id: hashSessionId(session.id),
          personId: session.userId,
          ...session.attributes,
          expiresAt: session.expiresAt,
        },
      });
    },
    async updateSessionExpiration(sessionId, expiresAt) {
      await prisma.session.updateMany({ where: { id: hashSessionId(sessionId) }, data: { expiresAt } });
    },
    async deleteSession(sessionId) {
      await prisma.session.deleteMany({ where: { id: hashSessionId(sessionId) } });
    },
    async deleteUserSessions(userId) {
      await prisma.session.deleteMany({ where: { personId: userId } });
    },
    async deleteExpiredSessions() {
      await prisma.session.deleteMany({ where: { expiresAt: { lte: new Date() } } });
    },
  };
}
