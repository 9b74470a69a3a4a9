/** What the service and its PDF process say to each other. */
export type Task =
  | { readonly kind: 'inspect'; readonly bytes: number }
  | { readonly kind: 'draw'; readonly bytes: number; readonly page: number; readonly widthPx: number };

export type ToChild =
  | { readonly say: 'task'; readonly task: Task }
  | { readonly say: 'range'; readonly start: number; readonly data: Buffer };

export type FromChild =
  | { readonly say: 'range'; readonly start: number; readonly end: number }
  | { readonly say: 'inspected'; readonly pageCount: number; readonly pages: readonly string[] }
  | { readonly say: 'drawn'; readonly picture: Buffer }
  | { readonly say: 'failed'; readonly why: 'locked' | 'damaged' | 'no such page' };
