import type { PrismaClient } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import { chainHead } from '../../record/events/append.ts';
import { factsOf } from '../outbox/facts.ts';
import { liveLine, type LiveLine } from './words.ts';

/** An open page, as the hub knows it. */
export interface Listener {
  readonly personId: string;
  readonly projectId: string;
  /** Hash of the session under which the page was opened. */
  readonly sessionHash: string;
  readonly role: Role;
  /** Bytes that wait because the other side reads slowly. */
  readonly behind: () => number;
  readonly write: (text: string) => void;
  readonly end: () => void;
}

export interface Hub {
  /**
   * Adds a page that has seen the log up to `after`, and tells it what came since; one that names no place (null) is
   * told what happens from now on. Null where this person has too many.
   */
  add: (listener: Listener, after: number | null) => (() => void) | null;
  /** PostgreSQL said: 'project seq'. */
  heard: (payload: string) => void;
  /** The listening connection is new: what was said meanwhile is read up. */
  readUp: () => void;
  /** Ends every page whose person is no member in that role any more, or whose session has ended. */
  checkAll: () => Promise<void>;
  /** A comment, so that no proxy takes the line for dead. */
  beat: () => void;
  endAll: () => void;
  size: () => number;
}

interface Page {
  /** The last line of the log that this page knows; null until the log's end was looked up for it. */
  place: number | null;
  /** False until it was told what came between its making and its opening of the stream. */
  caughtUp: boolean;
}

interface Room {
  readonly pages: Map<Listener, Page>;
  /** The last line of the log that was read for all; null before the first reading. */
  told: number | null;
  /** One reading after the other. */
  reading: Promise<void>;
}

/** So many pages of one person at once, in one process; a page more goes without. */
export const PAGES_OF_ONE_PERSON = 12;
/** Read at once; what is more comes with the next reading. */
const LINES_AT_ONCE = 50;
/** A page that does not read is let go; it comes back and reads up. */
const MOST_BEHIND_BYTES = 64 * 1024;

/**
 * The open pages of one process. Any number of pages of a project cost one reading of the log for each event: the line
 * is made once for each role, and written to all. What is told comes from the log alone, by sequence number, so that
 * nothing is missed or told twice, whatever was heard.
 */
export function createHub(prisma: PrismaClient, failed: (error: unknown) => void = () => undefined): Hub {
  const rooms = new Map<string, Room>();
  const pagesOf = new Map<string, number>();

  function remove(listener: Listener): void {
    const room = rooms.get(listener.projectId);
    if (room?.pages.delete(listener) !== true) return;
    if (room.pages.size === 0) rooms.delete(listener.projectId);
    const left = (pagesOf.get(listener.personId) ?? 1) - 1;
    if (left > 0) pagesOf.set(listener.personId, left);
    else pagesOf.delete(listener.personId);
  }
  function letGo(listener: Listener): void {
    remove(listener);
    listener.end();
  }

  function put(listener: Listener, text: string): void {
    if (listener.behind() > MOST_BEHIND_BYTES) letGo(listener);
    else listener.write(text);
  }

  async function linesSince(projectId: string, after: number) {
    const rows = await prisma.event.findMany({
      where: { projectId, seq: { gt: after } },
      orderBy: { seq: 'asc' },
      take: LINES_AT_ONCE + 1,
    });
    return Promise.all(
      rows.slice(0, LINES_AT_ONCE).map(async ({ seq, type, payload, actorName, actorId }) => {
        const happened = { type, actorName, payload: JSON.parse(payload) as unknown };
        const facts = await factsOf(prisma, {
          projectId,
          actorName,
          type: type as never,
          payload: happened.payload as never,
        });
        const byRole = new Map<Role, LiveLine | null>();
        return {
          seq,
          type,
          actorId,
          for(role: Role): LiveLine | null {
            const known = byRole.get(role);
            if (known !== undefined) return known;
            const line = liveLine(role, happened, facts);
            byRole.set(role, line);
            return line;
          },
        };
      }),
    );
  }
  type Lines = Awaited<ReturnType<typeof linesSince>>;

  function tell(listener: Listener, page: Page, lines: Lines): void {
    const { place } = page;
    const news = place === null ? [] : lines.filter(({ seq }) => seq > place);
    const last = news.at(-1);
    if (last === undefined) return;
    page.place = last.seq;
    let text = '';
    for (const one of news) {
      // One's own doing is no news; it still moves the page's place in the log.
      const line = one.actorId === listener.personId ? null : one.for(listener.role);
      if (line !== null) text += `id: ${one.seq}\nevent: change\ndata: ${JSON.stringify(line)}\n\n`;
    }
    put(listener, text === '' ? `id: ${last.seq}\nevent: place\ndata: ${last.seq}\n\n` : text);
  }

  function inTurn(room: Room, work: () => Promise<void>): void {
    room.reading = room.reading.then(work).catch(failed);
  }

  /** Reads what came in a project since the last reading, and tells it to every page that is caught up. */
  function read(projectId: string, room: Room): void {
    inTurn(room, async () => {
      while (rooms.get(projectId) === room) {
        // Nobody was told anything yet: whoever comes reads up for itself first.
        if (room.told === null) return;
        const lines = await linesSince(projectId, room.told);
        const last = lines.at(-1);
        if (last === undefined) return;
        room.told = last.seq;
        for (const [listener, page] of room.pages) if (page.caughtUp) tell(listener, page, lines);
        if (lines.some(({ type }) => type === 'member.removed' || type === 'member.joined')) {
          await checkMembers([...room.pages.keys()]);
        }
        if (lines.length < LINES_AT_ONCE) return;
      }
    });
  }

  /**
   * Tells one page what came between its making and its opening of the stream, up to the room's last reading: of what
   * came after that, PostgreSQL tells. A page that can't be told is let go; it comes back.
   */
  function catchUp(listener: Listener, page: Page, room: Room): void {
    const { projectId } = listener;
    inTurn(room, async () => {
      try {
        // The log's own end: what the room was told last may be a moment behind it.
        page.place ??= (await chainHead(prisma, projectId))?.seq ?? 0;
        room.told ??= (await chainHead(prisma, projectId))?.seq ?? 0;
        while (page.place < room.told && room.pages.has(listener)) {
          const lines = await linesSince(projectId, page.place);
          if (lines.length === 0) break;
          tell(listener, page, lines);
        }
        page.caughtUp = true;
      } catch (error) {
        letGo(listener);
        throw error;
      }
    });
  }

  async function checkMembers(listeners: readonly Listener[]): Promise<void> {
    if (listeners.length === 0) return;
    const [memberships, sessions] = await Promise.all([
      prisma.membership.findMany({
        where: {
          revokedAt: null,
          person: { closedAt: null },
          projectId: { in: [...new Set(listeners.map(({ projectId }) => projectId))] },
          personId: { in: [...new Set(listeners.map(({ personId }) => personId))] },
        },
        select: { projectId: true, personId: true, role: true },
      }),
      prisma.session.findMany({
        where: {
          id: { in: [...new Set(listeners.map(({ sessionHash }) => sessionHash))] },
          expiresAt: { gt: new Date() },
        },
        select: { id: true },
      }),
    ]);
    const present = new Set(memberships.map((one) => `${one.projectId} ${one.personId} ${one.role}`));
    const open = new Set(sessions.map(({ id }) => id));
    for (const listener of listeners) {
      const { projectId, personId, role, sessionHash } = listener;
      if (!present.has(`${projectId} ${personId} ${role}`) || !open.has(sessionHash)) letGo(listener);
    }
  }

  const everyone = () => [...rooms.values()].flatMap((room) => [...room.pages.keys()]);

  return {
    add(listener, after) {
      const pages = pagesOf.get(listener.personId) ?? 0;
      if (pages >= PAGES_OF_ONE_PERSON) return null;
      pagesOf.set(listener.personId, pages + 1);
      const room = rooms.get(listener.projectId) ?? {
        pages: new Map<Listener, Page>(),
        told: null,
        reading: Promise.resolve(),
      };
      rooms.set(listener.projectId, room);
      const page = { place: after, caughtUp: false };
      room.pages.set(listener, page);
      catchUp(listener, page, room);
      return () => {
        remove(listener);
      };
    },
    heard(payload) {
      const [projectId = ''] = payload.split(' ');
      const room = rooms.get(projectId);
      if (room !== undefined) read(projectId, room);
    },
    readUp() {
      for (const [projectId, room] of rooms) read(projectId, room);
    },
    async checkAll() {
      await checkMembers(everyone());
    },
    beat() {
      for (const listener of everyone()) put(listener, ': still here\n\n');
    },
    endAll() {
      for (const listener of everyone()) letGo(listener);
    },
    size: () => everyone().length,
  };
}
