import axe, { type AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

/** What axe finds wrong on a page, a line each. The context has to be opened with `bypassCSP`. */
export async function axeViolations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { axe: checker } = globalThis as unknown as { axe: { run: () => Promise<AxeResults> } };
    return (await checker.run()).violations.map((one) => `${one.id}: ${one.nodes[0]?.html ?? ''}`);
  });
}
