import { LRUCache } from 'lru-cache';
import { sentAgain } from './compression.ts';

/** Bytes of pages kept at most, as they were before they were compressed. */
const MOST = 24 * 1024 * 1024;
/** From when each was made, and not by the clock's minutes, or everybody's pages would be read anew in the same second. */
const AT_MOST_MS = 60_000;

/** Pages as they were rendered for one session, encoded once: UTF-8, and compressed when first asked for so. */
export class KeptPages {
  readonly #pages: LRUCache<string, Buffer>;

  /** @param now milliseconds of a clock that is never set back */
  constructor(now = () => performance.now()) {
    this.#pages = new LRUCache({
      maxSize: MOST,
      ttl: AT_MOST_MS,
      ttlResolution: 0,
      perf: { now },
      sizeCalculation: (page) => page.length + 1,
    });
  }

  find(key: string): Buffer | undefined {
    return this.#pages.get(key);
  }

  keep(key: string, html: string): Buffer {
    const page = sentAgain(Buffer.from(html));
    this.#pages.set(key, page);
    return page;
  }
}
