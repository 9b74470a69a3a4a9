import type { ChildProcess } from 'node:child_process';
import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { inBoundedChild, type ChildLimits } from '../bounded-child.ts';
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

const defaultLimits: ChildLimits = { timeMs: 25_000, memoryBytes: 700 * 1024 * 1024 };
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

function ask(source: PdfSource, task: Task, limits: ChildLimits): Promise<FromChild> {
  return inBoundedChild(new URL('./child.ts', import.meta.url), limits, (child) =>
    conversation(child, source, task),
  );
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
