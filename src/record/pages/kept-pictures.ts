import { createHash } from 'node:crypto';
import { LRUCache } from 'lru-cache';
import type { Picture } from '../../report/pictures/index.ts';

interface Kept {
  readonly pictures: readonly Picture[];
}

/** 8 million characters of drawings at most, some hundred pages' worth; a drawing's frame counts as well. */
const kept = new LRUCache<string, Kept>({
  maxSize: 8 * 1024 * 1024,
  sizeCalculation: ({ pictures }) => 200 + pictures.reduce((sum, { svg }) => sum + svg.length, 0),
});

/** What is drawn from these very contents: drawn once, since a drawing depends on nothing else. */
export function drawnOnce(contents: readonly unknown[], draw: () => readonly Picture[]): readonly Picture[] {
  const key = createHash('sha256').update(JSON.stringify(contents)).digest('base64url');
  const known = kept.get(key);
  if (known !== undefined) return known.pictures;
  const pictures = draw();
  kept.set(key, { pictures });
  return pictures;
}

/** The same for a single drawing; null where it can't be drawn, which is remembered as well. */
export function drawnOnceOrNot(
  contents: readonly unknown[],
  draw: () => Picture | undefined,
): Picture | null {
  const [picture] = drawnOnce(contents, () => {
    const drawing = draw();
    return drawing === undefined ? [] : [drawing];
  });
  return picture ?? null;
}
