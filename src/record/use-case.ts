import type { Actor, Clock } from '../actor.ts';
import type { Prisma, PrismaClient } from '../database/generated/client.ts';
import { inTransaction } from '../database/retry.ts';
import { roleMay, type Action } from '../people/permissions.ts';
import type { Role } from '../people/roles.ts';
import { membershipJustSeen } from '../people/memberships/seen-now.ts';
import { NotAllowed, NotFound } from '../problems.ts';
import {
  appendEvent,
  chainHead,
  lockProject,
  type RecordedEvent,
  type Transaction,
} from './events/append.ts';
import type { EventPayloads, EventType } from './events/payloads.ts';
import type { KindRegistry } from './kinds/registry.ts';

/** Told of every event inside its transaction: what a listener writes is there if and only if the event is. */
export type EventListener = (tx: Transaction, event: RecordedEvent) => Promise<void>;

/** What the services of the record are built from. */
export interface RecordDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  readonly kinds: KindRegistry;
  readonly listeners?: readonly EventListener[];
  /** Default: PostgreSQL's read committed. */
  readonly isolation?: Prisma.TransactionIsolationLevel;
}

/** One use case under way: the project is locked, the actor's role is the one of this moment. */
export interface UseCase {
  readonly tx: Transaction;
  readonly actor: Actor;
  /** The time of all that this use case records; never before the last line of the log. */
  readonly at: Date;
  readonly kinds: KindRegistry;
  readonly append: <Type extends EventType>(
    type: Type,
    payload: EventPayloads[Type],
  ) => Promise<RecordedEvent<Type>>;
}

/**
 * Runs a use case in one transaction: lock the project, look up the actor's membership again, then the work with
 * its events. Retried as a whole after a serialization failure; the work must touch nothing but `tx`.
 *
 * @throws NotFound where the actor is no member (any more): the same answer as for a project that isn't there.
 * @throws NotAllowed where the actor's present role does not do this.
 */
export async function useCase<Result>(
  deps: RecordDeps,
  actor: Actor,
  action: Action,
  work: (use: UseCase) => Promise<Result>,
): Promise<Result> {
  return inTransaction(
    deps.prisma,
    async (tx) => {
      await lockProject(tx, actor.projectId);
      const present = await presentActor(tx, actor, action);
      const head = await chainHead(tx, actor.projectId);
      const now = deps.clock();
      const at = head !== null && head.at > now ? head.at : now;
      // Whatever is added after the first line may have others between: listeners add their own.
      let known: typeof head | undefined = head;
      return work({
        tx,
        actor: present,
        at,
        kinds: deps.kinds,
        append: async (type, payload) => {
          const { projectId, personId: actorId, name: actorName } = present;
          const last = known;
          known = undefined;
          const event = await appendEvent(tx, { projectId, at, actorId, actorName, type, payload }, last);
          for (const listener of deps.listeners ?? []) await listener(tx, event);
          return event;
        },
      });
    },
    deps.isolation === undefined ? {} : { isolation: deps.isolation },
  );
}

/**
 * Runs something that leaves no line in the log (a read of several tables) after the same look-up of the membership,
 * or right after the one by which the request was let in. It locks nothing and opens no transaction: in PostgreSQL's
 * read committed every statement sees its own state, within a transaction or without, and opening and ending one costs
 * as much as a read.
 */
export async function asMember<Result>(
  deps: Pick<RecordDeps, 'prisma'>,
  actor: Actor,
  action: Action,
  work: (tx: Transaction, actor: Actor) => Promise<Result>,
): Promise<Result> {
  if (!membershipJustSeen(actor)) return asPresentMember(deps, actor, action, work);
  mustBeAllowed(actor.role, action);
  return work(deps.prisma, actor);
}

/** The same, looked up in any case: for what writes. */
export async function asPresentMember<Result>(
  deps: Pick<RecordDeps, 'prisma'>,
  actor: Actor,
  action: Action,
  work: (tx: Transaction, actor: Actor) => Promise<Result>,
): Promise<Result> {
  return work(deps.prisma, await presentActor(deps.prisma, actor, action));
}

function mustBeAllowed(role: Role, action: Action): void {
  if (!roleMay(role, action)) throw new NotAllowed(`As ${role} of this project you can't do that.`);
}

/** The actor with the role and name of this moment. */
async function presentActor(tx: Transaction, actor: Actor, action: Action): Promise<Actor> {
  const membership = await tx.membership.findFirst({
    where: {
      projectId: actor.projectId,
      personId: actor.personId,
      revokedAt: null,
      person: { closedAt: null },
    },
    select: { role: true, person: { select: { name: true } } },
  });
  if (!membership) throw new NotFound('That project');
  mustBeAllowed(membership.role, action);
  return { ...actor, role: membership.role, name: membership.person.name };
}
