import axe, { type AxeResults, type RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';

/** WCAG 2.2 AA and the good practices beside it; the size of targets is off unless it is asked for. */
const everything: RunOptions = {
  rules: { 'target-size': { enabled: true } },
  resultTypes: ['violations'],
  preload: false,
};
/** What another theme can spoil. */
const colours: RunOptions = { ...everything, runOnly: ['color-contrast'] };

/** What axe finds wrong on a page, a line each. The context has to be opened with `bypassCSP`. */
export async function axeViolations(page: Page, { coloursOnly = false } = {}): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(
    async (options) => {
      const { axe: checker } = globalThis as unknown as {
        axe: { run: (options: RunOptions) => Promise<AxeResults> };
      };
      const { violations } = await checker.run(options);
      return violations.map((one) => {
        const [node] = one.nodes;
        return `${one.id}: ${node?.html ?? ''} ${node?.failureSummary ?? ''}`;
      });
    },
    coloursOnly ? colours : everything,
  );
}
