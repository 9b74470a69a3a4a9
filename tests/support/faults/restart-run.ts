import { setTimeout as wait } from 'node:timers/promises';
import { openStream } from '../../notify/support/stream.ts';
import { actsOf, UnexpectedAnswer, type Act } from './acts.ts';
import type { FaultyHouse } from './faulty-house.ts';
import { brokenRecord, halfStates } from './half-states.ts';
import type { OwnPostgres } from './own-postgres.ts';

/** How long after PostgreSQL was back each thing worked again, ms; the service was not touched. */
export interface Recovery {
  readonly page: number;
  /** The first write was acknowledged. */
  readonly aWrite: number;
  /** Every kind of work was done once; they wait for one another at the lock of the project, so that this is load, too. */
  readonly everyWrite: number;
  /** An open page heard of something that happened since. */
  readonly openPage: number;
  /** A letter about something that happened since. */
  readonly letter: number;
  /** The address outside was told of something that happened since. */
  readonly outside: number;
}

export interface RestartOutcome {
  readonly recovery: Recovery;
  /** The kind of work that was done last of all, for the first time since. */
  readonly slowest: string;
  /** What people and programs were told meanwhile: status, and how often. */
  readonly toldMeanwhile: Readonly<Record<string, number>>;
  readonly problems: readonly string[];
}

/** What must be said while the database is away. */
export interface AwayAnswers {
  readonly page: { readonly status: number; readonly retryAfter: string | null; readonly html: string };
  readonly program: {
    readonly status: number;
    readonly retryAfter: string | null;
    readonly type: string | null;
    readonly body: { readonly type?: string; readonly detail?: string };
  };
  readonly asset: number;
  readonly health: number;
}

/** Stops PostgreSQL while all kinds of work go on, keeps it away, starts it again, and waits until everything works. */
export async function restartUnderLoad(
  house: FaultyHouse,
  postgres: OwnPostgres,
  awayMs: number,
  lookMeanwhile: (answers: AwayAnswers) => void = () => undefined,
): Promise<RestartOutcome> {
  const { scene, service } = house;
  const { base, people, inProject, inOpening, prisma } = scene;
  const problems: string[] = [];
  const told: Record<string, number> = {};
  const done = new Map<string, number>();
  const doneSince: string[] = [];
  let back = Number.POSITIVE_INFINITY;
  let over = false;

  async function traffic(name: string, act: Act): Promise<void> {
    while (!over) {
      try {
        await act();
        done.set(name, performance.now());
        if (performance.now() > back && !doneSince.includes(name)) doneSince.push(name);
      } catch (error) {
        if (!(error instanceof UnexpectedAnswer)) {
          problems.push(`${name}: ${String(error)}`);
          return;
        }
        const { status, retryAfter } = error;
        told[status] = (told[status] ?? 0) + 1;
        if (status !== 503 || retryAfter === null) problems.push(`${name}: ${error.message}`);
        // As long as it is told to would make the measurement; a person who tries at once is worse.
        await wait(100);
      }
    }
  }
  const acts = Object.entries(actsOf(scene));
  const going = acts.map(([name, act]) => traffic(name, act));
  const head = await prisma.event.count();
  const stream = await openStream(`${base}${inProject}/live?after=${head}`, people.owner.cookies());
  await until(async () => done.size === acts.length);

  await postgres.stop();
  await until(async () => (await people.owner.get(`${base}${inOpening}`)).status === 503);
  lookMeanwhile(await answersWhileAway(house));
  await wait(awayMs);
  const letters = house.received().messageIds.length;
  const calls = house.received().callIds.length;
  const heard = stream.changes.length;
  await postgres.start();
  back = performance.now();
  const since = async (what: () => Promise<boolean>) => {
    await until(what);
    return performance.now() - back;
  };
  const [page, aWrite, everyWrite, openPage, letter, outside] = await Promise.all([
    since(async () => (await people.owner.get(`${base}${inOpening}`)).status === 200),
    since(async () => doneSince.length > 0),
    since(async () => doneSince.length === acts.length),
    since(async () => stream.changes.length > heard),
    since(async () => house.received().messageIds.length > letters),
    since(async () => house.received().callIds.length > calls),
  ]);
  over = true;
  await Promise.all(going);
  stream.close();
  if (!service.running()) problems.push(`the service ended:\n${service.output()}`);
  const lost = await scene.ledger.check(prisma, true, { itemId: scene.savedItemId });
  problems.push(...lost.map(({ what, key, sentence }) => `${what} ${key} ${sentence}`));
  problems.push(...(await halfStates(scene)), ...(await brokenRecord(scene)));
  const slowest = doneSince.at(-1) ?? '';
  return {
    recovery: { page, aWrite, everyWrite, openPage, letter, outside },
    slowest,
    toldMeanwhile: told,
    problems,
  };
}

async function until(what: () => Promise<boolean>): Promise<void> {
  while (!(await what())) await wait(50);
}

async function answersWhileAway({ scene }: FaultyHouse): Promise<AwayAnswers> {
  const { base, people, inProject, inOpening, tokens } = scene;
  const page = await people.contractor.get(`${base}${inOpening}`);
  const program = await fetch(`${base}/api/v1${inProject}/items`, {
    headers: { authorization: `Bearer ${tokens.engineer}` },
  });
  const status = async (path: string) => (await people.contractor.get(base + path)).status;
  return {
    page: { status: page.status, retryAfter: page.headers.get('retry-after'), html: await page.text() },
    program: {
      status: program.status,
      retryAfter: program.headers.get('retry-after'),
      type: program.headers.get('content-type'),
      body: (await program.json()) as AwayAnswers['program']['body'],
    },
    asset: await status('/assets/page.css'),
    health: await status('/health'),
  };
}
