import { LRUCache } from 'lru-cache';

/**
 * What was read of a record, kept in memory until the log goes on. Every row of a record is written with a line of the
 * log, so that what is read at the same last line is the same; the key names that line, which was looked up before
 * anything was read. Nothing has to be told to forget, and other processes' writes count as one's own.
 *
 * Nothing personal goes in that has no line in a log (drafts, forms half filled, choices of mail).
 */
export class KeptReads<Value extends object> {
  readonly #kept: LRUCache<string, Promise<Value>>;

  /** @param most entries at most; the least asked for goes first */
  constructor(most: number) {
    this.#kept = new LRUCache({ max: most });
  }

  /** Two who ask at the same time wait for the same read. A read that fails is not kept. */
  async read(key: string, work: () => Promise<Value>): Promise<Value> {
    const kept = this.#kept.get(key);
    if (kept !== undefined) return kept;
    const reading = work();
    this.#kept.set(key, reading);
    reading.catch(() => {
      if (this.#kept.peek(key) === reading) this.#kept.delete(key);
    });
    return reading;
  }
}
