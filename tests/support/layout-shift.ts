import type { Page } from 'playwright-core';

interface Shift extends PerformanceEntry {
  readonly value: number;
  readonly hadRecentInput: boolean;
  readonly sources: readonly { readonly node: Node | null }[];
}

interface Watching {
  shifts?: { score: number; what: string[] };
}

/** From now on every page that this one opens counts what moves without being asked to. */
export async function watchShifts(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const seen = { score: 0, what: [] as string[] };
    (window as unknown as Watching).shifts = seen;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as Shift[]) {
        if (entry.hadRecentInput) continue;
        seen.score += entry.value;
        for (const { node } of entry.sources) {
          seen.what.push(node instanceof Element ? node.outerHTML.slice(0, 80) : (node?.nodeName ?? 'gone'));
        }
      }
    }).observe({ type: 'layout-shift', buffered: true });
  });
}

export async function readShift(page: Page): Promise<{ score: number; what: string[] }> {
  const seen = await page.evaluate(() => (window as unknown as Watching).shifts);
  if (seen === undefined) throw new Error('nobody watched for shifts on this page');
  return seen;
}
