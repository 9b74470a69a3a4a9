import { LRUCache } from 'lru-cache';
import { sentAgain } from './compression.ts';

/** Bytes of pages kept at most, as they were before they were compressed. */
const MOST = 24 * 1024 * 1024;

/** Pages as they were rendered for one session, encoded once: UTF-8, and compressed when first asked for so. */
export class KeptPages {
  readonly #pages = new LRUCache<string, Buffer>({
    maxSize: MOST,
    sizeCalculation: (page) => page.length + 1,
  });

  find(key: string): Buffer | undefined {
    return this.#pages.get(key);
  }

  keep(key: string, html: string): Buffer {
    const page = sentAgain(Buffer.from(html));
    this.#pages.set(key, page);
    return page;
  }
}
