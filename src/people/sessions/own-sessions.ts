import type { PrismaClient } from '../../database/generated/client.ts';
import { hashSessionId } from './adapter.ts';
import type { SignedIn } from './sessions.ts';

/** A session as its person sees it. */
export interface OwnSession {
  /** Names it in a form; the beginning of the hash that is kept, of no use to sign in with. */
  readonly name: string;
  readonly begunAt: Date;
  readonly lastSeenAt: Date;
  readonly browser: string;
  /** The one that the list is looked at in. */
  readonly isThis: boolean;
}

const NAME_SIGNS = 16;
type Me = Pick<SignedIn, 'personId' | 'sessionId'>;

/** This one first, then by when they were last seen. */
export async function listOwnSessions(prisma: PrismaClient, me: Me): Promise<OwnSession[]> {
  const rows = await prisma.session.findMany({
    where: { personId: me.personId, expiresAt: { gt: new Date() } },
    orderBy: [{ lastSeenAt: 'desc' }, { createdAt: 'desc' }],
  });
  const here = hashSessionId(me.sessionId);
  return rows
    .map((row) => ({
      name: row.id.slice(0, NAME_SIGNS),
      begunAt: row.createdAt,
      lastSeenAt: row.lastSeenAt,
      browser: row.browser,
      isThis: row.id === here,
    }))
    .sort((one, other) => Number(other.isThis) - Number(one.isThis));
}

/** Ends the named ones, as far as they are one's own and not this one. @returns how many */
export async function endOwnSessions(
  prisma: PrismaClient,
  me: Me,
  names: readonly string[],
): Promise<number> {
  const named = names.filter((name) => /^[0-9a-f]{16}$/.test(name));
  if (named.length === 0) return 0;
  const { count } = await prisma.session.deleteMany({
    where: {
      personId: me.personId,
      id: { not: hashSessionId(me.sessionId) },
      OR: named.map((name) => ({ id: { startsWith: name } })),
    },
  });
  return count;
}

/** Ends all but this one. @returns how many */
export async function endOtherSessions(prisma: PrismaClient, me: Me): Promise<number> {
  const { count } = await prisma.session.deleteMany({
    where: { personId: me.personId, id: { not: hashSessionId(me.sessionId) } },
  });
  return count;
}
