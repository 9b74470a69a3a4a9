import { createDatabase } from '../../src/database/client.ts';
import { signIn, type Walker } from '../../tests/support/crawl/crawl.ts';
import { mainPages, type MainPage } from '../../tests/support/main-pages.ts';
import type { Visitor } from '../../tests/support/visitor.ts';
import { startOver } from '../service-over.ts';
import { markingOf, type Marking } from './marking.ts';
import { lookAtPlans } from './plans.ts';

export interface BothInstallations {
  /** Database URLs. */
  readonly small: string;
  readonly large: string;
  readonly dataFolder: string;
}

const WARM = 5;
const SAMPLES = 31;
/** Each with something written in the project before it, so that nothing kept of the page is good. */
const ANEW = 15;
const MARKS = 40;

/**
 * Times main pages, as they are kept and read anew, and a save with its mark, in turn in the small and in the large
 * installation.
 */
export async function measureBoth({ small, large, dataFolder }: BothInstallations): Promise<void> {
  const [one, other] = [await startOver(small, dataFolder), await startOver(large, dataFolder)];
  const databases = [createDatabase(small), createDatabase(large)] as const;
  try {
    const rows = [];
    const markings = [await markingOf(databases[0].prisma), await markingOf(databases[1].prisma)] as const;
    const bases = [one.base, other.base] as const;
    const pages = await pagesOf(one.base);
    const visitors = [await everybody(one.base, pages), await everybody(other.base, pages)] as const;
    for (const { name, who, address } of pages) {
      const times: [number[], number[]] = [[], []];
      for (let sample = -WARM; sample < SAMPLES; sample += 1) {
        for (const side of [0, 1] as const) {
          const start = performance.now();
          await visitors[side].get(who)?.page(bases[side] + address);
          if (sample >= 0) times[side].push(performance.now() - start);
        }
      }
      const anew: [number[], number[]] = [[], []];
      for (let sample = 0; sample < ANEW; sample += 1) {
        for (const side of [0, 1] as const) {
          await markings[side].saveAndMark();
          const start = performance.now();
          await visitors[side].get(who)?.page(bases[side] + address);
          anew[side].push(performance.now() - start);
        }
      }
      rows.push(compared(name, times), compared(`${name}, anew`, anew));
    }
    console.table(rows);
    await lookAtPlans(large, dataFolder, pages);
    await measureMarks(markings);
  } finally {
    await one.stop();
    await other.stop();
    for (const database of databases) await database.close();
  }
}

async function measureMarks(sides: readonly [Marking, Marking]): Promise<void> {
  const saves: [number[], number[]] = [[], []];
  const marks: [number[], number[]] = [[], []];
  for (let sample = -WARM; sample < MARKS; sample += 1) {
    for (const side of [0, 1] as const) {
      const { saveMs, markMs } = await sides[side].saveAndMark();
      if (sample < 0) continue;
      saves[side].push(saveMs);
      marks[side].push(markMs);
    }
  }
  console.table([compared('a version saved', saves), compared('a mark', marks)]);
}

/** The pages on which people spend their time, and those that list what grows. */
async function pagesOf(base: string): Promise<readonly MainPage[]> {
  const pages = (await mainPages(base)).filter(({ who }) => who !== 'signed out');
  const addressOf = (wanted: string) => pages.find(({ name }) => name === wanted)?.address ?? '';
  return [
    ...pages,
    { name: 'history of the beam', who: 'contractor', address: `${addressOf('beam')}/history` },
    { name: 'log', who: 'engineer', address: `${addressOf('project')}/log` },
    { name: 'search', who: 'contractor', address: `${addressOf('project')}/search?q=plies` },
  ];
}

async function everybody(base: string, pages: readonly MainPage[]): Promise<ReadonlyMap<Walker, Visitor>> {
  const all = new Map<Walker, Visitor>();
  for (const { who } of pages) if (!all.has(who)) all.set(who, await signIn(base, who));
  return all;
}

function compared(name: string, [small, large]: readonly [number[], number[]]): object {
  const [low, high] = [median(small), median(large)];
  return {
    what: name,
    'small, ms': Number(low.toFixed(1)),
    'large, ms': Number(high.toFixed(1)),
    ratio: Number((high / low).toFixed(2)),
  };
}

function median(times: readonly number[]): number {
  return [...times].sort((one, other) => one - other)[Math.floor(times.length / 2)] ?? Number.NaN;
}
