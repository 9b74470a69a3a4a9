import { LRUCache } from 'lru-cache';

/** The last line of a log, or those of several logs in one text, as looked up before anything was read. */
type Head = number | string;

interface Kept<Value> {
  readonly head: Head;
  readonly reading: Promise<Value>;
}

/**
 * What was read of a record, kept in memory until the log goes on. Every row of a record is written with a line of the
 * log, so that what is read at the same head is the same. Nothing has to be told to forget, and other processes' writes
 * count as one's own. Of each key one read is kept, by the head asked for last.
 *
 * Nothing personal goes in that has no line in a log (drafts, forms half filled, choices of mail).
 */
export class KeptReads<Value extends object> {
  readonly #kept: LRUCache<string, Kept<Value>>;

  /**
   * @param most entries at most; the least asked for goes first
   * @param forMs how long each is kept at most; left out: as long as there is room
   */
  constructor(most: number, forMs?: number) {
    // Purged, and not only overlooked: what nobody asks for again must not stay in memory.
    this.#kept = new LRUCache({
      max: most,
      ...(forMs === undefined ? {} : { ttl: forMs, ttlAutopurge: true }),
    });
  }

  /** Two who ask at the same time wait for the same read. A read that fails is not kept. */
  async read(key: string, head: Head, work: () => Promise<Value>): Promise<Value> {
    const kept = this.#kept.get(key);
    if (kept?.head === head) return kept.reading;
    // The one log has gone on since this request looked at it. Of several, which is the later can't be told.
    if (typeof kept?.head === 'number' && typeof head === 'number' && kept.head > head) return work();
    const reading = work();
    this.#kept.set(key, { head, reading });
    reading.catch(() => {
      if (this.#kept.peek(key)?.reading === reading) this.#kept.delete(key);
    });
    return reading;
  }
}
