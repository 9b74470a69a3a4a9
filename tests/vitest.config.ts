import { defineConfig } from 'vitest/config';
import { LongestFirst } from './support/longest-first.ts';

/**
 * Three rings, told apart by suffix: `.unit.test.ts` touches nothing outside the process,
 * `.db.test.ts` and `.http.test.ts` start from a fresh database of their own,
 * `.browser.test.ts` drives Chromium against a running server.
 */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/support/database.setup.ts'],
    exclude: ['**/node_modules/**', '**/.stryker-tmp/**'],
    testTimeout: 90_000,
    hookTimeout: 120_000,
    pool: 'forks',
    // Three for two cores: much of a browser test is waiting.
    maxWorkers: 3,
    // Test files share what they import, and own their data: reading the same modules 250 times is a tenth of the run.
    isolate: false,
    sequence: { sequencer: LongestFirst },
  },
});
