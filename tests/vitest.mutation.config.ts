import { defineConfig } from 'vitest/config';

/**
 * The quick, sharp tests of what mutation testing looks at; no database, no random beams, no SymPy. MUTATION_ROOM
 * (statics or wood) leaves the other room's files unloaded, which is what a run spends its time on.
 */
const rooms = {
  statics: ['tests/engineering/statics/**/*.unit.test.ts', 'tests/published/beam-statics.unit.test.ts'],
  wood: [
    'tests/engineering/wood/**/*.unit.test.ts',
    'tests/published/nds-values.unit.test.ts',
    'tests/published/built-up-columns.unit.test.ts',
    'tests/published/worked-examples-wood.unit.test.ts',
    'tests/published/irc-wood-tables.unit.test.ts',
  ],
};
const room = process.env.MUTATION_ROOM;

export default defineConfig({
  test: {
    include: room === 'statics' || room === 'wood' ? rooms[room] : [...rooms.statics, ...rooms.wood],
    testTimeout: 20_000,
    pool: 'threads',
    // One worker, modules loaded once: half the time of a mutant is loading.
    isolate: false,
  },
});
