import axe, { type AxeResults, type RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';

/** WCAG 2.2 AA and the good practices beside it; the size of targets is off unless it is asked for. */
const everything: RunOptions = {
  rules: { 'target-size': { enabled: true } },
  resultTypes: ['violations'],
  preload: false,
};
const only = (...rules: string[]): RunOptions => ({ ...everything, rules: {}, runOnly: rules });
const options = {
  everything,
  /** What another theme can spoil. */
  colours: only('color-contrast'),
  /** What another width can spoil: what is shown at all, how large and in front of what. */
  layout: only(
    'color-contrast',
    'target-size',
    'scrollable-region-focusable',
    'link-in-text-block',
    'bypass',
  ),
};

/** What axe finds wrong on a page, a line each. The context has to be opened with `bypassCSP`. */
export async function axeViolations(
  page: Page,
  which: keyof typeof options = 'everything',
): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async (chosen) => {
    const { axe: checker } = globalThis as unknown as {
      axe: { run: (options: RunOptions) => Promise<AxeResults> };
    };
    const { violations } = await checker.run(chosen);
    return violations.map((one) => {
      const [node] = one.nodes;
      return `${one.id}: ${node?.html ?? ''} ${node?.failureSummary ?? ''}`;
    });
  }, options[which]);
}
