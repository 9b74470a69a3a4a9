import { setTimeout as wait } from 'node:timers/promises';
import PgBoss from 'pg-boss';
import { createDatabase } from '../../database/client.ts';
import type { LetterState } from '../../database/generated/client.ts';
import { gather, type GatherOptions } from '../outbox/gather.ts';
import { sendLetter, type SendDeps } from '../mail/send.ts';
import { forgetOld } from '../outbox/forget.ts';
import { Bell } from './bell.ts';

export interface MailWorkOptions {
  readonly databaseUrl: string;
  readonly gather: GatherOptions;
  /** Between two looks for work where nobody called. */
  readonly pollMs: number;
  /** Between two sweeps for what no call told of. */
  readonly sweepMs: number;
  /** A job that takes longer is another process's to do; longer than the lease of a letter. */
  readonly jobSeconds: number;
  /** Between two looks for such jobs. */
  readonly maintenanceSeconds: number;
  /** Seconds before the second attempt; doubled, with chance, for each further one. */
  readonly retrySeconds: number;
}

export const ordinaryWork: Omit<MailWorkOptions, 'databaseUrl' | 'gather'> = {
  pollMs: 5_000,
  sweepMs: 60_000,
  jobSeconds: 300,
  maintenanceSeconds: 60,
  retrySeconds: 30,
};

/**
 * Something else that lies in the outbox: its rows say what is to be done and whether it was, a job for each only says
 * when to look.
 */
export interface OutboxWork {
  readonly queue: string;
  /** The job must not end before its row does. */
  readonly retryLimit: number;
  /** Rows that want a job, by the id that the job shall have. */
  readonly ready: () => Promise<readonly { readonly jobId: string; readonly rowId: string }[]>;
  readonly work: (
    rowId: string,
  ) => Promise<{ readonly is: 'settled' } | { readonly is: 'later'; readonly problem: string }>;
}

export interface MailWorkDeps extends SendDeps {
  readonly others?: readonly OutboxWork[];
  readonly tell: {
    settled: (letterId: string, state: LetterState, problem: string) => void;
    later: (letterId: string, problem: string) => void;
    failed: (error: unknown) => void;
  };
}

export interface MailWork {
  /** Something was put into the outbox: lines, which wait for their neighbours, or what goes at once. */
  called: (what: 'lines' | 'at once') => void;
  /** Ends after what is under way. */
  close: () => Promise<void>;
}

/** The schema of the job tables, in the database of the record. */
export const JOBS_SCHEMA = 'jobs';
export const GATHER_QUEUE = 'gather-letters';
export const SEND_QUEUE = 'send-letter';

/** Letters that one process hands over side by side. */
const SIDE_BY_SIDE = 4;

/**
 * Two processes that make the queues at the same moment lock one another out (each queue is a table and a row), so
 * they take turns; the key is Lintelbook's own.
 */
const QUEUES_LOCK = 70_041_969;

/** Its figures stand. */
const gatherQueue = { policy: 'short', retryLimit: 3, retryDelay: 5, expireInSeconds: 120 } as const;

async function oneAtATime(prisma: MailWorkDeps['prisma'], act: () => Promise<void>): Promise<void> {
  await prisma.$transaction(
    async (transaction) => {
      await transaction.$executeRaw`SELECT pg_advisory_xact_lock(${QUEUES_LOCK}::bigint)`;
      await act();
    },
    { maxWait: 60_000, timeout: 120_000 },
  );
}

async function startWithQueues(boss: PgBoss, deps: MailWorkDeps, options: MailWorkOptions): Promise<void> {
  await boss.start();
  // Not only at creation: the figures are those of this start.
  const sendQueue = {
    policy: 'standard',
    // The letter's row counts its attempts and gives up; the job only must not end before.
    retryLimit: deps.attempts * 4,
    retryDelay: options.retrySeconds,
    retryBackoff: true,
    expireInSeconds: options.jobSeconds,
  } as const;
  await boss.createQueue(GATHER_QUEUE, { name: GATHER_QUEUE, ...gatherQueue });
  await boss.createQueue(SEND_QUEUE, { name: SEND_QUEUE, ...sendQueue });
  await boss.updateQueue(SEND_QUEUE, { name: SEND_QUEUE, ...sendQueue });
  for (const { queue, retryLimit } of deps.others ?? []) {
    await boss.createQueue(queue, { name: queue, ...sendQueue, retryLimit });
    await boss.updateQueue(queue, { name: queue, ...sendQueue, retryLimit });
  }
}

/**
 * Makes the tables of the jobs and the queues, as whoever owns the database: each queue is a table, and the role that
 * serves makes none. What is there already stays.
 */
export async function makeQueues(ownerUrl: string, others: readonly string[]): Promise<void> {
  const database = createDatabase(ownerUrl, { connections: 1 });
  const boss = new PgBoss({
    connectionString: ownerUrl,
    application_name: 'lintelbook queues',
    schema: JOBS_SCHEMA,
    max: 1,
    supervise: false,
    schedule: false,
  });
  boss.on('error', () => undefined);
  try {
    await oneAtATime(database.prisma, async () => {
      await boss.start();
      await boss.createQueue(GATHER_QUEUE, { name: GATHER_QUEUE, ...gatherQueue });
      for (const name of [SEND_QUEUE, ...others]) await boss.createQueue(name, { name, policy: 'standard' });
    });
  } finally {
    await boss.stop({ graceful: false, wait: true });
    await database.close();
  }
}

/**
 * The workers of one process. Any number of processes share the work: jobs lie in the database (pg-boss), each is
 * fetched by one process, tried again with growing pauses, and taken over where its process ended.
 *
 * Two sorts of jobs. `gather-letters` makes letters of the lines that are due and puts a job for each; there is one at
 * a time. `send-letter` sends one; the job's id is the letter's, so that a letter never has two. Jobs only say when to
 * look: what decides whether a letter is sent is its row (see `sendLetter`).
 *
 * Jobs are fetched by a loop of our own and not by `boss.work`, which lets a failing database end the process.
 */
export async function startMailWork(deps: MailWorkDeps, options: MailWorkOptions): Promise<MailWork> {
  const { prisma, tell } = deps;
  const boss = new PgBoss({
    connectionString: options.databaseUrl,
    application_name: 'lintelbook mail',
    schema: JOBS_SCHEMA,
    max: 2,
    schedule: false,
    supervise: true,
    maintenanceIntervalSeconds: options.maintenanceSeconds,
  });
  boss.on('error', tell.failed);
  await oneAtATime(prisma, () => startWithQueues(boss, deps, options));

  const ended = new AbortController();
  const toGather = new Bell(ended.signal);
  const toSend = new Bell(ended.signal);
  const others = (deps.others ?? []).map((other) => ({ other, bell: new Bell(ended.signal) }));

  /** The id of the job; null where its queue has one of the same key that has not begun. */
  async function askForGathering(key: string, afterSeconds: number): Promise<string | null> {
    return boss.send(
      GATHER_QUEUE,
      {},
      { singletonKey: key, ...(afterSeconds > 0 ? { startAfter: afterSeconds } : {}) },
    );
  }

  const waitSeconds = Math.ceil(options.gather.waitMs / 1000) + 1;
  let nextLinesAt = -Infinity;
  /** Until that job begins, a further one of its key would only be refused by its queue. */
  async function askForLines(): Promise<void> {
    const now = performance.now();
    if (now < nextLinesAt) return;
    const jobId = await askForGathering('lines', waitSeconds);
    if (jobId !== null) nextLinesAt = now + waitSeconds * 1000;
  }

  async function doGathering(): Promise<void> {
    const { left } = await gather(prisma, deps.clock(), options.gather);
    if (left) await askForLines();
    const ready = await prisma.letter.findMany({
      where: { state: { in: ['ready', 'claimed', 'handing_over'] } },
      select: { id: true },
      orderBy: { createdAt: 'asc' },
      take: 500,
    });
    // What has its job already keeps it: the id is taken.
    const letters = ready.map(({ id }) => ({ id, name: SEND_QUEUE, data: { letterId: id } }));
    if (letters.length > 0) await boss.insert(letters);
    let found = letters.length;
    for (const { other } of others) {
      const rows = await other.ready();
      const jobs = rows.map(({ jobId, rowId }) => ({ id: jobId, name: other.queue, data: { rowId } }));
      if (jobs.length > 0) await boss.insert(jobs);
      found += jobs.length;
    }
    if (found === 0) return;
    for (const bell of [toSend, ...others.map((one) => one.bell)]) bell.ring();
  }

  async function doOther({ queue, work }: OutboxWork, job: PgBoss.Job<{ rowId: string }>): Promise<void> {
    const done = await work(job.data.rowId);
    if (done.is === 'later') await boss.fail(queue, job.id, { problem: done.problem });
    else await boss.complete(queue, job.id);
  }

  async function doSending(job: PgBoss.Job<{ letterId: string }>): Promise<void> {
    const { letterId } = job.data;
    const sent = await sendLetter(deps, letterId);
    if (sent.is === 'later') {
      tell.later(letterId, sent.problem);
      await boss.fail(SEND_QUEUE, job.id, { problem: sent.problem });
      return;
    }
    tell.settled(letterId, sent.state, sent.problem);
    await boss.complete(SEND_QUEUE, job.id);
  }

  /** Fetches and works until nothing is left; false where nothing was there. */
  async function round<Data>(
    queue: string,
    batchSize: number,
    work: (job: PgBoss.Job<Data>) => Promise<void>,
  ): Promise<boolean> {
    const jobs = await boss.fetch<Data>(queue, { batchSize });
    await Promise.all(
      jobs.map(async (job) => {
        try {
          await work(job);
        } catch (error) {
          tell.failed(error);
          await boss.fail(queue, job.id, { problem: 'see the log' });
        }
      }),
    );
    return jobs.length > 0;
  }

  async function loop(bell: Bell, turn: () => Promise<boolean>): Promise<void> {
    while (!ended.signal.aborted) {
      const found = await turn().catch((error: unknown) => {
        tell.failed(error);
        return false;
      });
      if (!found) await bell.pause(options.pollMs);
    }
  }

  async function sweep(): Promise<void> {
    while (!ended.signal.aborted) {
      try {
        await askForGathering('sweep', 0);
        toGather.ring();
        await forgetOld(prisma, deps.clock());
      } catch (error) {
        tell.failed(error);
      }
      await wait(options.sweepMs, undefined, { signal: ended.signal }).catch(() => undefined);
    }
  }

  const running = Promise.all([
    loop(toGather, () =>
      round(GATHER_QUEUE, 1, async (job) => {
        await doGathering();
        await boss.complete(GATHER_QUEUE, job.id);
      }),
    ),
    loop(toSend, () => round(SEND_QUEUE, SIDE_BY_SIDE, doSending)),
    ...others.map(({ other, bell }) =>
      loop(bell, () => round<{ rowId: string }>(other.queue, SIDE_BY_SIDE, (job) => doOther(other, job))),
    ),
    sweep(),
  ]);

  return {
    called(what) {
      const asked = what === 'lines' ? askForLines() : askForGathering('now', 0);
      asked.then(() => {
        toGather.ring();
      }, tell.failed);
    },
    async close() {
      ended.abort();
      await running;
      await boss.stop({ graceful: true, wait: true, timeout: 5_000 });
    },
  };
}
