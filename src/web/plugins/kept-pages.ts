import { randomBytes } from 'node:crypto';
import { LRUCache } from 'lru-cache';

/** Characters of pages kept at most, of two bytes each. */
const MOST = 12 * 1024 * 1024;

/** Stands in a kept page where a form's token goes. Unknown outside this process, so that no page holds it by chance. */
export const TOKEN_PLACE = `token${randomBytes(24).toString('hex')}`;

/** Pages as they were rendered, cut where the token of their forms goes. */
export class KeptPages {
  readonly #pages = new LRUCache<string, readonly string[]>({
    maxSize: MOST,
    sizeCalculation: (pieces) => pieces.reduce((sum, piece) => sum + piece.length, 1),
  });

  /** The page kept under this key with a token of its own; undefined where none is kept. */
  find(key: string, token: () => string): string | undefined {
    return this.#pages.get(key)?.join(token());
  }

  /**
   * @param html rendered with `TOKEN_PLACE` for its token
   * @returns the page with a token of its own
   */
  keep(key: string, html: string, token: () => string): string {
    const pieces = html.split(TOKEN_PLACE);
    this.#pages.set(key, pieces);
    return pieces.join(token());
  }
}
