import { defineConfig } from 'vitest/config';

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
    maxWorkers: 2,
  },
});
