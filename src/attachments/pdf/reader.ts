import { fork, type ChildProcess } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { createTurns } from '../turns.ts';
import type { ByteRange } from '../storage/blob-store.ts';
import type { FromChild, Task, ToChild } from './messages.ts';

/** Where the bytes of a PDF are read from, a range at a time. */
export interface PdfSource {
  readonly bytes: number;
  readonly read: (range: ByteRange) => Readable | Promise<Readable>;
}

export interface PdfFacts {
  readonly pageCount: number;
  /** The words of each page from the first on, '' for a page without; at most of the first 300 pages. */
  readonly pages: readonly string[];
}

/** 'too much' stands for one of the limits: time, memory, or a reader that broke. */
export type PdfTrouble = 'locked' | 'damaged' | 'no such page' | 'too much';

export class PdfUnreadable extends Error {
  override readonly name = 'PdfUnreadable';
  readonly why: PdfTrouble;
  constructor(why: PdfTrouble) {
    super(`The PDF can't be read: ${why}.`);
    this.why = why;
  }
}

export interface PdfLimits {
  /** Of work; waiting for a busy machine does not count, up to six times as much. */
  readonly timeMs: number;
  readonly memoryBytes: number;
}

const defaultLimits: PdfLimits = { timeMs: 25_000, memoryBytes: 700 * 1024 * 1024 };
const WATCH_MS = 100;
const PATIENCE = 6;
/** The kernel counts a process's time in hundredths of a second (proc(5), sysconf(_SC_CLK_TCK)). */
const TICK_MS = 10;

const turns = createTurns(2);

/** Counts the pages and reads the words. @throws PdfUnreadable */
export async function inspectPdf(source: PdfSource, limits = defaultLimits): Promise<PdfFacts> {
  const answer = await turns(() => ask(source, { kind: 'inspect', bytes: source.bytes }, limits));
  if (answer.say !== 'inspected') throw new PdfUnreadable('too much');
  // PostgreSQL keeps no null characters; nobody searches for one.
  const pages = answer.pages.map((text) => Buffer.from(text).toString().replaceAll('\0', ''));
  return { pageCount: answer.pageCount, pages };
}

/** One page as WebP, white where the page is bare. @throws PdfUnreadable */
export async function drawPdfPage(
  source: PdfSource,
  page: number,
  widthPx: number,
  limits = defaultLimits,
): Promise<Buffer> {
  const answer = await turns(() => ask(source, { kind: 'draw', bytes: source.bytes, page, widthPx }, limits));
  if (answer.say !== 'drawn') throw new PdfUnreadable('too much');
  return Buffer.from(answer.picture);
}

/**
 * A process for each task, killed at its limits. A thread would share the service's memory: what a canvas and a
 * decoder take lies outside of the heap that a thread can be limited to, and a fault in them would end the service.
 */
async function ask(source: PdfSource, task: Task, limits: PdfLimits): Promise<FromChild> {
  const child = fork(fileURLToPath(new URL('./child.ts', import.meta.url)), {
    execArgv: ['--import', import.meta.resolve('tsx'), '--max-old-space-size=512'],
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    // None of the service's secrets.
    env: { PATH: process.env.PATH ?? '', NODE_ENV: 'production' },
  });
  const overTime = setTimeout(() => child.kill('SIGKILL'), limits.timeMs * PATIENCE);
  const watch = setInterval(() => void killOver(child, limits), WATCH_MS);
  try {
    return await conversation(child, source, task);
  } finally {
    clearTimeout(overTime);
    clearInterval(watch);
    child.kill('SIGKILL');
  }
}

function conversation(child: ChildProcess, source: PdfSource, task: Task): Promise<FromChild> {
  const tell = (message: ToChild) => {
    // A child that has gone is answered for by its exit.
    if (child.connected) child.send(message, () => undefined);
  };
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', () => {
      reject(new PdfUnreadable('too much'));
    });
    child.on('message', (message: FromChild) => {
      if (message.say === 'failed') {
        reject(new PdfUnreadable(message.why));
      } else if (message.say !== 'range') {
        resolve(message);
      } else {
        const { start, end } = message;
        readRange(source, { start, end: Math.min(end, source.bytes - 1) }).then((data) => {
          tell({ say: 'range', start, data });
        }, reject);
      }
    });
    tell({ say: 'task', task });
  });
}

async function readRange(source: PdfSource, range: ByteRange): Promise<Buffer> {
  return buffer(await source.read(range));
}

/** Linux says how much a process holds and has worked; elsewhere the heap's limit and the clock are what there is. */
async function killOver(child: ChildProcess, limits: PdfLimits): Promise<void> {
  if (process.platform !== 'linux' || child.pid === undefined || child.exitCode !== null) return;
  const status = await readFile(`/proc/${child.pid}/status`, 'utf8').catch(() => '');
  const held = Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1] ?? 0) * 1024;
  // After the name in brackets, which may hold anything, utime and stime are the 12th and 13th (proc(5)).
  const stat = await readFile(`/proc/${child.pid}/stat`, 'utf8').catch(() => '');
  const [user = '0', system = '0'] = stat
    .slice(stat.lastIndexOf(')') + 2)
    .split(' ')
    .slice(11, 13);
  const workedMs = (Number(user) + Number(system)) * TICK_MS;
  if (held > limits.memoryBytes || workedMs > limits.timeMs) child.kill('SIGKILL');
}
