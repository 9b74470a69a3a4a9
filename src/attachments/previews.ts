import { createHash, randomUUID } from 'node:crypto';
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { buffer } from 'node:stream/consumers';
import type { Attachment } from '../database/generated/client.ts';
import { isPicture } from './media-types.ts';
import { drawOver, type Drawn, type Grid } from './notes/overlay.ts';
import { drawHeic } from './heic/reader.ts';
import { drawPdfPage } from './pdf/reader.ts';
import { makePreview, type PreviewWidth } from './pictures.ts';
import { stampAcross } from './stamp.ts';
import type { BlobStore } from './storage/blob-store.ts';
import { createTurns } from './turns.ts';

export interface PreviewWanted {
  readonly width: PreviewWidth;
  /** From 1; of a picture always 1. */
  readonly page: number;
  /** Written across it, or null. */
  readonly across: string | null;
  readonly notes: readonly Drawn[];
  /** For reading places off. */
  readonly grid: Grid;
}

export type Previews = (row: Attachment, wanted: PreviewWanted) => Promise<Buffer>;

/**
 * Draws previews from stored files that were held against their hash before. Pages of drawings and HEIC photos take a second or more,
 * so they are kept under DATA_DIR/previews; what is kept there can be thrown away at any time.
 */
export function createPreviews(blobs: BlobStore, dataFolder: string): Previews {
  const decode = createTurns(2);
  const folder = path.resolve(dataFolder, 'previews');

  async function page(row: Attachment, { page: number, width }: PreviewWanted): Promise<Buffer> {
    const file = path.join(folder, `${row.sha256}-${number}-${width}`);
    const kept = await readKept(file);
    if (kept !== null) return kept;
    const source = {
      bytes: Number(row.bytes),
      read: (range: { start: number; end: number }) => blobs.open(row.sha256, range),
    };
    const drawn =
      row.mediaType === 'image/heic'
        ? (await drawHeic(await buffer(await blobs.open(row.sha256)), width)).picture
        : await drawPdfPage(source, number, width);
    await keep(file, drawn);
    return drawn;
  }

  return async (row, wanted) => {
    const plain =
      isPicture(row.mediaType) && row.mediaType !== 'image/heic'
        ? await decode(async () => makePreview(await blobs.open(row.sha256), wanted.width))
        : await page(row, wanted);
    const { across, notes, grid } = wanted;
    const noted = notes.length > 0 || grid !== null ? await drawOver(plain, notes, grid) : plain;
    return across === null ? noted : stampAcross(noted, across);
  };
}

/** The hash of what follows stands first, so that a preview damaged on the disk is drawn again. */
async function readKept(file: string): Promise<Buffer | null> {
  const bytes = await readFile(file).catch(() => null);
  if (bytes === null || bytes.length < 33) return null;
  const rest = bytes.subarray(32);
  return createHash('sha256').update(rest).digest().equals(bytes.subarray(0, 32)) ? rest : null;
}

/** A preview that can't be kept is drawn again next time; that is no reason not to show it. */
async function keep(file: string, picture: Buffer): Promise<void> {
  const temporary = `${file}.${randomUUID()}`;
  try {
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(temporary, Buffer.concat([createHash('sha256').update(picture).digest(), picture]));
    await rename(temporary, file);
  } catch {
    await rm(temporary, { force: true }).catch(() => undefined);
  }
}
