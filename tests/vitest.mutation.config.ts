import { defineConfig } from 'vitest/config';

/** The quick, sharp tests of what mutation testing looks at; no database, no random beams, no SymPy. */
export default defineConfig({
  test: {
    include: [
      'tests/engineering/statics/**/*.unit.test.ts',
      'tests/engineering/wood/**/*.unit.test.ts',
      'tests/published/beam-statics.unit.test.ts',
      'tests/published/nds-values.unit.test.ts',
      'tests/published/built-up-columns.unit.test.ts',
      'tests/published/worked-examples-wood.unit.test.ts',
      'tests/published/irc-wood-tables.unit.test.ts',
    ],
    testTimeout: 20_000,
    pool: 'threads',
  },
});
