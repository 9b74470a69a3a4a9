import type { Browser } from 'playwright-core';
import { loadDemo, type DemoExtent } from '../../src/demo/load.ts';
import { startTestApp, type TestApp } from './app.ts';
import { launchChromium } from './chromium.ts';

/** The service with the demo in it, behind a port, and a browser. */
export interface RunningDemo {
  readonly test: TestApp;
  readonly base: string;
  readonly browser: Browser;
  stop(): Promise<void>;
}

export async function startDemo(extent: DemoExtent): Promise<RunningDemo> {
  const test = await startTestApp({ DEMO: 'true' });
  await loadDemo(test.deps, extent);
  const base = await test.app.listen({ host: '127.0.0.1', port: 0 });
  const browser = await launchChromium();
  return {
    test,
    base,
    browser,
    async stop() {
      await browser.close();
      await test.close();
    },
  };
}
