import { Lucia, TimeSpan } from 'lucia';
import type { PrismaClient } from '../../database/generated/client.ts';
import { createSessionAdapter, hashSessionId, type Beside, type ReadBeside } from './adapter.ts';

declare module 'lucia' {
  interface Register {
    Lucia: Lucia<{ createdAt: Date; lastSeenAt: Date }, DatabaseUserAttributes>;
    DatabaseSessionAttributes: { createdAt: Date; lastSeenAt: Date; browser: string };
    DatabaseUserAttributes: DatabaseUserAttributes;
  }
}

interface DatabaseUserAttributes {
  readonly name: string;
  readonly email: string;
  readonly beside: ReadBeside;
}

/** Who is signed in, as far as pages need it. */
export interface SignedIn {
  readonly personId: string;
  readonly name: string;
  readonly email: string;
  /** The id of the cookie: kept in memory for the request alone. */
  readonly sessionId: string;
}

export interface Sessions {
  /** Value for a Set-Cookie header; the browser in plain words, for the person's own list. */
  start: (personId: string, browser?: string) => Promise<string>;
  /**
   * Who the Cookie header names; `renewedCookie` is to be set where the session was lengthened.
   *
   * @param beside read in the same query; nothing of it without a person
   */
  read: (cookieHeader: string | undefined, beside?: Beside) => Promise<ReadSession>;
  end: (sessionId: string) => Promise<void>;
  endAll: (personId: string) => Promise<void>;
  endExpired: () => Promise<void>;
  blankCookie: () => string;
}

export interface ReadSession {
  readonly person: SignedIn | null;
  readonly beside?: ReadBeside;
  readonly renewedCookie?: string;
}

/** Sliding expiry alone would let a session live for ever; this is the cap (ASVS 5.0, 7.3.2). */
const LONGEST_DAYS = 30;
const IDLE_DAYS = 7;
const MS_PER_DAY = 86_400_000;
/** "Last seen" is right to this: not every page writes a row. */
const MS_BETWEEN_SIGHTS = 600_000;

/** The only file that knows Lucia. Replacing it means writing these six functions anew. */
export function createSessions(prisma: PrismaClient, options: { secureCookies: boolean }): Sessions {
  // Light enough to be made for a request: it holds nothing but these.
  const luciaReading = (beside?: Beside) =>
    new Lucia(createSessionAdapter(prisma, beside), {
      sessionExpiresIn: new TimeSpan(IDLE_DAYS, 'd'),
      sessionCookie: {
        name: options.secureCookies ? '__Host-lintelbook' : 'lintelbook',
        attributes: { secure: options.secureCookies, sameSite: 'lax', path: '/' },
      },
      getSessionAttributes: ({ createdAt, lastSeenAt }) => ({ createdAt, lastSeenAt }),
      getUserAttributes: (attributes) => attributes,
    });
  const lucia = luciaReading();

  return {
    async start(personId, browser = '') {
      const now = new Date();
      const session = await lucia.createSession(personId, { createdAt: now, lastSeenAt: now, browser });
      return lucia.createSessionCookie(session.id).serialize();
    },
    async read(cookieHeader, beside) {
      const sessionId = lucia.readSessionCookie(only(lucia.sessionCookieName, cookieHeader ?? ''));
      if (sessionId === null) return { person: null };
      const { session, user } = await (beside === undefined ? lucia : luciaReading(beside)).validateSession(
        sessionId,
      );
      if (session === null) return { person: null };
      if (Date.now() - session.createdAt.getTime() > LONGEST_DAYS * MS_PER_DAY) {
        await lucia.invalidateSession(sessionId);
        return { person: null };
      }
      const now = new Date();
      if (now.getTime() - session.lastSeenAt.getTime() > MS_BETWEEN_SIGHTS) {
        await prisma.session.updateMany({
          where: { id: hashSessionId(sessionId) },
          data: { lastSeenAt: now },
        });
      }
      const person = { personId: user.id, name: user.name, email: user.email, sessionId };
      const read = { person, beside: user.beside };
      return session.fresh
        ? { ...read, renewedCookie: lucia.createSessionCookie(sessionId).serialize() }
        : read;
    },
    end: (sessionId) => lucia.invalidateSession(sessionId),
    endAll: (personId) => lucia.invalidateUserSessions(personId),
    endExpired: () => lucia.deleteExpiredSessions(),
    blankCookie: () => lucia.createBlankSessionCookie().serialize(),
  };
}

/**
 * The one cookie of a Cookie header. Lucia's reader decodes all of them, and one of another program on the same host
 * that is no percent-encoding would make it throw, on every page.
 */
function only(name: string, cookieHeader: string): string {
  const cookies = cookieHeader.split(';').map((cookie) => cookie.trim());
  const own = cookies.find((cookie) => cookie.startsWith(`${name}=`)) ?? '';
  return own.includes('%') ? '' : own;
}
