import { createRequire } from 'node:module';
import path from 'node:path';
import { createCanvas } from '@napi-rs/canvas';
import { getDocument, PDFDataRangeTransport, type PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { FromChild, Task, ToChild } from './messages.ts';

/**
 * Reads PDFs of strangers, in a process of its own: what it costs in memory and time, and what breaks in the reader,
 * is not the service's. It asks its parent for the ranges it needs and touches no file of the record.
 */

const RANGE_BYTES = 256 * 1024;
const LONGEST_TEXT = 1_000_000;
/** A page's words are indexed as one; PostgreSQL's limit of 1 MB for that is never near. */
const LONGEST_PAGE = 60_000;
const PAGES_READ = 300;
/** A page may be this much taller than wide; a strip of a mile is no sheet. */
const TALLEST = 5;

const home = path.dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));

function send(message: FromChild): void {
  process.send?.(message);
}

class ParentTransport extends PDFDataRangeTransport {
  override requestDataRange(start: number, end: number): void {
    send({ say: 'range', start, end: end - 1 });
  }
}

let transport: ParentTransport | undefined;

async function openDocument(bytes: number): Promise<PDFDocumentProxy> {
  transport = new ParentTransport(bytes, null);
  return getDocument({
    range: transport,
    rangeChunkSize: RANGE_BYTES,
    disableAutoFetch: true,
    disableStream: true,
    useSystemFonts: false,
    enableXfa: false,
    maxImageSize: 60_000_000,
    standardFontDataUrl: path.join(home, 'standard_fonts/'),
    cMapUrl: path.join(home, 'cmaps/'),
    wasmUrl: path.join(home, 'wasm/'),
    iccUrl: path.join(home, 'iccs/'),
    verbosity: 0,
  }).promise;
}

async function inspect(document: PDFDocumentProxy): Promise<FromChild> {
  const pages: string[] = [];
  let length = 0;
  for (
    let number = 1;
    number <= Math.min(document.numPages, PAGES_READ) && length < LONGEST_TEXT;
    number += 1
  ) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent();
    const text = items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : ' ') : '')).join('');
    pages.push(text.slice(0, LONGEST_PAGE));
    length += text.length;
    page.cleanup();
  }
  return { say: 'inspected', pageCount: document.numPages, pages };
}

async function draw(document: PDFDocumentProxy, number: number, widthPx: number): Promise<FromChild> {
  if (number < 1 || number > document.numPages) return { say: 'failed', why: 'no such page' };
  const page = await document.getPage(number);
  const natural = page.getViewport({ scale: 1 });
  const tallness = natural.height / natural.width;
  if (!(tallness > 0 && tallness <= TALLEST)) return { say: 'failed', why: 'damaged' };
  const viewport = page.getViewport({ scale: widthPx / natural.width });
  const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
  const context = canvas.getContext('2d');
  await page.render({
    // The canvas draws as the browser's does; only its types are its own.
    canvas: canvas as never,
    canvasContext: context as never,
    viewport,
    background: '#ffffff',
  }).promise;
  return { say: 'drawn', picture: await canvas.encode('webp', 85) };
}

async function work(task: Task): Promise<FromChild> {
  try {
    const document = await openDocument(task.bytes);
    return await (task.kind === 'inspect' ? inspect(document) : draw(document, task.page, task.widthPx));
  } catch (error) {
    const locked = error instanceof Error && error.name === 'PasswordException';
    return { say: 'failed', why: locked ? 'locked' : 'damaged' };
  }
}

process.on('message', (message: ToChild) => {
  if (message.say === 'range') {
    transport?.onDataRange(message.start, new Uint8Array(message.data));
    return;
  }
  void work(message.task).then((answer) => {
    process.send?.(answer, () => process.exit(0));
  });
});
process.on('disconnect', () => process.exit(0));
