import type { Prisma } from '../../database/generated/client.ts';
import { NotFound } from '../../problems.ts';
import { canonicalJson } from '../canonical.ts';
import { eventHash, GENESIS_HASH } from '../hash.ts';
import type { EventPayloads, EventType } from './payloads.ts';

export type Transaction = Prisma.TransactionClient;

/** One line of a project's log, as recorded. */
export interface RecordedEvent<Type extends EventType = EventType> {
  readonly projectId: string;
  readonly seq: number;
  readonly at: Date;
  readonly actorId: string | null;
  readonly actorName: string;
  readonly type: Type;
  readonly payload: EventPayloads[Type];
  readonly prevHash: string;
  readonly hash: string;
}

/**
 * Makes this transaction the project's only writer until it ends. Everything that writes to a project's record
 * calls it first.
 *
 * It is an update that changes nothing, not a mere lock: at read committed the next writer waits and then sees
 * what the first one wrote; at repeatable read and serializable, where it would go on with the picture it took
 * before waiting, PostgreSQL refuses it (40001) and `inTransaction` runs it again.
 *
 * @throws NotFound where there is no such project.
 */
export async function lockProject(tx: Transaction, projectId: string): Promise<void> {
  const locked = await tx.$executeRaw`UPDATE project SET name = name WHERE id = ${projectId}::uuid`;
  if (locked === 0) throw new NotFound('That project');
}

interface Head {
  readonly seq: number;
  readonly hash: string;
  readonly at: Date;
}

/** The last line of a project's log; null before the first. Only the project's only writer may build on it. */
export async function chainHead(tx: Transaction, projectId: string): Promise<Head | null> {
  return tx.event.findFirst({
    where: { projectId },
    orderBy: { seq: 'desc' },
    select: { seq: true, hash: true, at: true },
  });
}

/**
 * Adds one line to the project's log, chained to the one before it. The caller holds `lockProject`. A clock that
 * was set back doesn't make the log run backwards: the time is then that of the line before.
 */
export async function appendEvent<Type extends EventType>(
  tx: Transaction,
  event: {
    readonly projectId: string;
    readonly at: Date;
    /** Null where the service itself acts. */
    readonly actorId: string | null;
    readonly actorName: string;
    readonly type: Type;
    readonly payload: EventPayloads[Type];
  },
  /** The last line, where this transaction has just read it and added none since. */
  known?: Head | null,
): Promise<RecordedEvent<Type>> {
  const head = known === undefined ? await chainHead(tx, event.projectId) : known;
  const at = head !== null && head.at > event.at ? head.at : event.at;
  const seq = (head?.seq ?? 0) + 1;
  const prevHash = head?.hash ?? GENESIS_HASH;
  const { projectId, actorId, actorName, type, payload } = event;
  const hash = eventHash({ projectId, seq, at, actorId, actorName, type, payload, prevHash });
  await tx.event.create({
    data: { projectId, seq, at, actorId, actorName, type, payload: canonicalJson(payload), prevHash, hash },
  });
  return { projectId, seq, at, actorId, actorName, type, payload, prevHash, hash };
}
