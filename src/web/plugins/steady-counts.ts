import type { FastifyRateLimitStore } from '@fastify/rate-limit';
import { LRUCache } from 'lru-cache';

interface Count {
  times: number;
  readonly since: number;
}

/** Addresses and tokens that are counted at a time; the ones not seen longest are forgotten. */
const MOST = 5_000;

/**
 * Requests of each address in its window, by a clock that only goes forward: when the clock of the machine is set back
 * an hour, nobody waits an hour for a minute to be over.
 */
export class SteadyCounts implements FastifyRateLimitStore {
  readonly #counts = new LRUCache<string, Count>({ max: MOST });
  readonly #now: () => number;

  constructor(_options?: unknown, now: () => number = () => performance.now()) {
    this.#now = now;
  }

  incr(
    key: string,
    done: (error: Error | null, result?: { current: number; ttl: number }) => void,
    timeWindow: number,
  ): void {
    const now = this.#now();
    let count = this.#counts.get(key);
    if (count === undefined || now - count.since >= timeWindow) {
      count = { times: 0, since: now };
      this.#counts.set(key, count);
    }
    count.times += 1;
    done(null, { current: count.times, ttl: timeWindow - (now - count.since) });
  }

  /** A route with a limit of its own counts by itself. */
  child(): SteadyCounts {
    return new SteadyCounts(undefined, this.#now);
  }
}
