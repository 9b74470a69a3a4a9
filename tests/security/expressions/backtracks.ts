import v8 from 'node:v8';
import vm from 'node:vm';
import type { Expression } from './collect.ts';
import { countable } from './parts.ts';

type WithLimit = (source: string, flags: string, limit: number) => RegExp;

/**
 * V8's own count of the times that its matcher goes back: an expression that gives up after so many. The engine has it
 * for its tests; it is the same for the same string on any machine.
 */
const withLimit: WithLimit = (() => {
  v8.setFlagsFromString('--allow-natives-syntax');
  try {
    const make = new vm.Script(
      '((source, flags, limit) => %NewRegExpWithBacktrackLimit(source, flags, limit))',
    ).runInThisContext() as WithLimit;
    // Compiled at its first call, which is still inside.
    make('a', '', 1);
    return make;
  } finally {
    v8.setFlagsFromString('--no-allow-natives-syntax');
  }
})();

/** Does a walk over the whole text, from match to match, go back more often than this? */
export function goesBackMore({ source, flags }: Expression, limit: number): (text: string) => boolean {
  // The walk always gets to the end, so that no match means: given up.
  const walk = withLimit(`(?:(?:${countable(source)})|[^])*?(?![^])`, flags.replace(/[gy]/g, ''), limit);
  return (text) => walk.exec(text) === null;
}
