import type { Actor } from '../../actor.ts';

/** A request that reads for longer asks once more. */
const HOLDS_MS = 1_000;

const seen = new WeakMap<Actor, number>();

/**
 * Notes that this very actor's membership was read from the database, with the role as it says. By the object, not by
 * what stands in it: an actor that somebody put together is none that was looked up.
 *
 * @param since no later than the reading began, by `performance.now()`
 */
export function sawMembership(actor: Actor, since: number): void {
  seen.set(actor, since);
}

/** Was it read within the last second? Then a page of many reads need not ask for each of them anew. */
export function membershipJustSeen(actor: Actor): boolean {
  const at = seen.get(actor);
  return at !== undefined && performance.now() - at < HOLDS_MS;
}
