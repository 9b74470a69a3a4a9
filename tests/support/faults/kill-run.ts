import { setTimeout as wait } from 'node:timers/promises';
import { actsOf, UnexpectedAnswer, type Act } from './acts.ts';
import { brokenRecord, halfStates, wronglyTold } from './half-states.ts';
import type { Scene } from './scene.ts';
import type { ServiceProcess } from './service-process.ts';
import type { StatementLine } from './statement-line.ts';

/** When the service is killed: at a moment, or at a statement, by what PostgreSQL and the service know of it by then. */
export const killKinds = ['at a moment', 'before a statement', 'before a commit', 'after a commit'] as const;
export type KillKind = (typeof killKinds)[number];

export interface KillPoint {
  readonly number: number;
  readonly kind: KillKind;
  /** The only work that goes on, or all of it at once. */
  readonly during: string;
  /** Milliseconds, or how many statements or commits go through before. */
  readonly after: number;
}

export interface KillOutcome {
  readonly point: KillPoint;
  readonly problems: readonly string[];
}

/** Numbers that look like chance and are the same for the same seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A draft is one statement without a transaction around it: no COMMIT is ever sent. */
const COMMITS_NOTHING: ReadonlySet<string> = new Set(['a draft']);

/** Points over every kind of work and every way of being killed, in turn; how far each gets is drawn. */
export function drawPoints(count: number, works: readonly string[], random: () => number): KillPoint[] {
  const during = [...works, 'all at once'];
  const most: Record<KillKind, number> = {
    'at a moment': 2500,
    'before a statement': 350,
    'before a commit': 16,
    'after a commit': 16,
  };
  return Array.from({ length: count }, (_none, index) => {
    const work = during[(index + Math.floor(index / during.length)) % during.length] ?? 'all at once';
    const inTurn = killKinds[index % killKinds.length] ?? 'at a moment';
    const kind = inTurn.endsWith('commit') && COMMITS_NOTHING.has(work) ? 'before a statement' : inTurn;
    const more = work === 'all at once' && kind !== 'at a moment' ? 4 : 1;
    return { number: index + 1, kind, during: work, after: 1 + Math.floor(random() * most[kind] * more) };
  });
}

export interface Killing {
  readonly scene: Scene;
  readonly service: ServiceProcess;
  readonly line: StatementLine;
  readonly received: () => { readonly messageIds: readonly string[]; readonly callIds: readonly string[] };
  /** Every so many points the whole record is recomputed, and at the last one. */
  readonly wholeEvery: number;
  readonly tell?: (outcome: KillOutcome) => void;
}

/** A point that the traffic does not reach is killed at after this long: work that stands still is a fault of its own. */
const REACHED_WITHIN_MS = 30_000;

/** Kills the running service at each point in turn, and looks at what is there once it is back. */
export async function killAtEach(run: Killing, points: readonly KillPoint[]): Promise<KillOutcome[]> {
  const { scene, service, tell } = run;
  const acts = actsOf(scene);
  const outcomes: KillOutcome[] = [];
  for (const point of points) {
    const problems = await killAt(run, acts, point);
    await service.start();
    const last = point === points.at(-1);
    const whole = last || point.number % run.wholeEvery === 0;
    const lost = await scene.ledger.check(scene.prisma, whole, { itemId: scene.savedItemId });
    problems.push(...lost.map(({ what, key, sentence }) => `${what} ${key} ${sentence}`));
    problems.push(...(await halfStates(scene)), ...(await wronglyTold(scene, run.received())));
    if (whole) problems.push(...(await brokenRecord(scene)));
    const outcome = { point, problems };
    outcomes.push(outcome);
    tell?.(outcome);
  }
  return outcomes;
}

async function killAt(
  { service, line }: Killing,
  acts: Readonly<Record<string, Act>>,
  point: KillPoint,
): Promise<string[]> {
  const problems: string[] = [];
  const reached = reach(line, point);
  const going = Object.entries(acts).filter(([name]) => ['all at once', name].includes(point.during));
  let over = false;
  const traffic = going.map(async ([name, act]) => {
    while (!over) {
      try {
        await act();
      } catch (error) {
        if (error instanceof UnexpectedAnswer && error.status === 503 && error.retryAfter !== null) {
          // A machine that is too busy says so; nothing was acknowledged.
          await wait(100);
          continue;
        }
        if (error instanceof UnexpectedAnswer) {
          // The service said so before it was killed, or while its database was kept from it.
          problems.push(`${name}: ${error.message}`);
          return;
        }
        if (!isConnectionLost(error)) {
          problems.push(`${name}: ${String(error)}`);
          return;
        }
        // It ended with the process: nobody knows whether it was kept.
        await wait(5);
      }
    }
  });
  const late = new AbortController();
  const found = await Promise.race([
    reached.then(() => true),
    wait(REACHED_WITHIN_MS, false, { signal: late.signal }).catch(() => false),
  ]);
  late.abort();
  await service.kill();
  over = true;
  line.watch(null);
  await Promise.all(traffic);
  // What it logged before it was killed says why.
  if (problems.length > 0) problems.push(...logged(service.output()));
  if (!found) problems.push(`was not reached within ${REACHED_WITHIN_MS} ms`);
  return problems;
}

/** The first errors of a log, each in a line. */
function logged(output: string): string[] {
  const lines = output.split('\n').filter((line) => line.includes('"err"'));
  return lines.slice(0, 3).map((line) => `logged: ${line.slice(0, 1_000)}`);
}

/** As the client of this process says it (undici). */
function isConnectionLost(error: unknown): boolean {
  return error instanceof TypeError && ['fetch failed', 'terminated'].includes(error.message);
}

/** Resolves at the point; from then on nothing gets through to the database, or nothing back. */
async function reach(line: StatementLine, { kind, after }: KillPoint): Promise<void> {
  if (kind === 'at a moment') {
    await wait(after);
    return;
  }
  let passed = 0;
  const heard = line.muted();
  await new Promise<void>((resolve) => {
    let there = false;
    line.watch(({ type, isCommit }) => {
      if (there) return 'hold';
      const counted = kind === 'before a statement' ? type === 'Q' || type === 'E' : isCommit;
      if (!counted) return 'pass';
      passed += 1;
      if (passed < after) return 'pass';
      there = true;
      if (kind === 'after a commit') return 'mute';
      resolve();
      return 'hold';
    });
    void heard.then(resolve);
  });
}
