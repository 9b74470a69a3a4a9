import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import postgres from 'postgres';
import { parseDatabaseUrl } from './problems.ts';

export interface ListenOptions {
  readonly databaseUrl: string;
  /** Channel → what to do with a payload. */
  readonly channels: Readonly<Record<string, (payload: string) => void>>;
  /** After every connection, the first one too: what was said meanwhile was said to nobody, and is to be read up. */
  readonly onConnected: () => void;
  readonly onLost?: (error: unknown) => void;
  /** Says a word on a channel over another connection (NOTIFY). */
  readonly say: (channel: string, word: string) => Promise<unknown>;
  /** How often the connection is tried with a word to oneself. Default 15 s. */
  readonly trialMs?: number;
}

export interface Listening {
  /** Resolves once, when it listens for the first time. */
  readonly connected: Promise<void>;
  close: () => Promise<void>;
}

const TRIAL_CHANNEL = 'lintelbook_trial';
const FIRST_PAUSE_MS = 250;
/** Whoever looks at an open page waits no longer than this after the database is back. */
const LONGEST_PAUSE_MS = 2_000;
/** The library tries by itself and does not say that nobody answers. */
const CONNECT_LIMIT_MS = 4_000;
/** Between two tries of the library itself, which would double up to 20 s. */
const MENDING_PAUSE_SECONDS = 1;

/**
 * One connection of this process that hears NOTIFY, and is made anew whenever it breaks. A line that is dead without
 * saying so (a router forgot it, a standby took over) is found by a word sent to oneself over it that does not come back.
 */
export function listen(options: ListenOptions): Listening {
  parseDatabaseUrl(options.databaseUrl);
  const trialMs = options.trialMs ?? 15_000;
  const ended = new AbortController();
  const isEnded = () => ended.signal.aborted;
  let firstConnected: () => void = () => undefined;
  const connected = new Promise<void>((resolve) => {
    firstConnected = resolve;
  });

  async function hold(): Promise<void> {
    const sql = postgres(options.databaseUrl, {
      max: 1,
      connect_timeout: 10,
      idle_timeout: 0,
      max_lifetime: null,
      backoff: () => MENDING_PAUSE_SECONDS,
      fetch_types: false,
      onnotice: () => undefined,
      connection: { application_name: 'lintelbook listening' },
    });
    try {
      let heard: (word: string) => void = () => undefined;
      for (const [channel, tell] of Object.entries(options.channels)) {
        await inTime(sql.listen(channel, tell), Math.min(trialMs, CONNECT_LIMIT_MS), ended.signal);
      }
      // Listened to last, also when the library mends a broken connection by itself: by then the others are.
      const trial = sql.listen(
        TRIAL_CHANNEL,
        (word) => {
          heard(word);
        },
        () => {
          options.onConnected();
        },
      );
      await inTime(trial, trialMs, ended.signal);
      firstConnected();
      while (!isEnded()) {
        const word = randomUUID();
        const back = new Promise<void>((resolve) => {
          heard = (said) => {
            if (said === word) resolve();
          };
        });
        await inTime(options.say(TRIAL_CHANNEL, word), trialMs, ended.signal);
        await inTime(back, trialMs, ended.signal);
        await wait(trialMs, undefined, { signal: ended.signal }).catch(() => undefined);
      }
    } finally {
      await sql.end({ timeout: 1 }).catch(() => undefined);
    }
  }

  const running = (async () => {
    let pause = FIRST_PAUSE_MS;
    while (!isEnded()) {
      const since = Date.now();
      try {
        await hold();
      } catch (error) {
        if (!isEnded()) options.onLost?.(error);
      }
      // A connection that held for a while starts the pauses anew.
      pause = Date.now() - since > LONGEST_PAUSE_MS ? FIRST_PAUSE_MS : Math.min(pause * 2, LONGEST_PAUSE_MS);
      await wait(pause * (0.5 + Math.random() / 2), undefined, { signal: ended.signal }).catch(
        () => undefined,
      );
    }
  })();

  return {
    connected,
    async close() {
      ended.abort();
      await running;
    },
  };
}

/** @throws where it takes longer, or where listening is ended meanwhile. */
async function inTime<T>(work: Promise<T>, ms: number, ended: AbortSignal): Promise<T> {
  const timer = new AbortController();
  const late = wait(ms, undefined, { signal: AbortSignal.any([timer.signal, ended]) }).then(() => {
    throw new Error('The database did not answer the listening connection.');
  });
  late.catch(() => undefined);
  work.catch(() => undefined);
  try {
    return await Promise.race([work, late]);
  } finally {
    timer.abort();
  }
}
