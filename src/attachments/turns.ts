/**
 * Lets at most `atOnce` pieces of work run at the same time; the others wait in line. Decoding is what costs memory
 * here, and twenty people opening one gallery must not cost twenty times as much.
 */
export function createTurns(atOnce: number): <Result>(work: () => Promise<Result>) => Promise<Result> {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async (work) => {
    if (running >= atOnce) await new Promise<void>((resolve) => waiting.push(resolve));
    else running += 1;
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next === undefined) running -= 1;
      else next();
    }
  };
}
