import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { Refused, StorageUnavailable } from '../problems.ts';
import { isPicture, sniff, type AcceptedType } from './media-types.ts';
import { inspectPdf, PdfUnreadable, type PdfFacts } from './pdf/reader.ts';
import { inspectHeic, inspectPicture, LARGEST_PICTURE_BYTES, type PictureFacts } from './pictures.ts';
import type { BlobStore, Received } from './storage/blob-store.ts';

export interface ReceivedFile {
  readonly received: Received;
  readonly mediaType: AcceptedType;
  readonly picture: PictureFacts | null;
  /** Of a PDF; null also where its pages could not be read within the limits. */
  readonly drawing: PdfFacts | null;
}

/**
 * Takes one file in: streamed, hashed and counted on the way, its type told by content, a picture decoded
 * once. On any refusal nothing is left behind. The caller commits or discards `received`.
 */
export async function receiveFile(
  store: BlobStore,
  bytes: Readable,
  options: { limitBytes: number; wasCutShort: () => boolean },
): Promise<ReceivedFile> {
  const received = await store.receive(countedTo(bytes, options.limitBytes));
  try {
    if (options.wasCutShort()) throw tooLarge(options.limitBytes);
    const sniffed = await sniff(received.head);
    if (!sniffed.ok) throw new Refused(sniffed.sentence);
    const picture = isPicture(sniffed.mediaType) ? await inspect(received, sniffed.mediaType) : null;
    const drawing = sniffed.mediaType === 'application/pdf' ? await inspectDrawing(received) : null;
    return { received, mediaType: sniffed.mediaType, picture, drawing };
  } catch (error) {
    await received.discard();
    throw error;
  }
}

function tooLarge(limitBytes: number): Refused {
  return new Refused(
    `The file is larger than ${Math.floor(limitBytes / 1024 / 1024)} MB, the most that is kept here.`,
  );
}

/**
 * Ends at the limit. An iteration, not a pipe: a sender that goes away ends it with an error, and a store that
 * fails ends the reading of the sender.
 */
async function* countedTo(bytes: Readable, limitBytes: number): AsyncGenerator<Buffer> {
  let total = 0;
  for await (const chunk of bytes as AsyncIterable<Buffer>) {
    total += chunk.length;
    if (total > limitBytes) throw tooLarge(limitBytes);
    yield chunk;
  }
}

async function inspect(received: Received, mediaType: AcceptedType): Promise<PictureFacts> {
  if (received.bytes > LARGEST_PICTURE_BYTES) throw tooLarge(LARGEST_PICTURE_BYTES);
  try {
    return await (mediaType === 'image/heic' ? inspectHeic : inspectPicture)(received.reread());
  } catch (error) {
    if (error instanceof StorageUnavailable) throw error;
    throw new Refused('The picture is damaged or too large to show. Take it again, or send it as JPEG.');
  }
}

async function inspectDrawing(received: Received): Promise<PdfFacts | null> {
  await checkPdfEnd(received);
  try {
    return await inspectPdf({ bytes: received.bytes, read: received.reread });
  } catch (error) {
    if (!(error instanceof PdfUnreadable)) throw error;
    if (error.why === 'locked') {
      throw new Refused(
        'The PDF is locked with a password. Save it without one, so that others can read it.',
      );
    }
    if (error.why === 'damaged')
      throw new Refused('The PDF is damaged: it can’t be opened. Export it again.');
    // A drawing too heavy to be read here is kept and downloaded; it only has no preview and no search.
    return null;
  }
}

/** ISO 32000-1, 7.5.5: the last line of a PDF is %%EOF; a cut-off upload has none near its end. */
async function checkPdfEnd(received: Received): Promise<void> {
  const end = received.bytes - 1;
  const tail = await buffer(received.reread({ start: Math.max(0, end - 2047), end }));
  if (!tail.includes('%%EOF'))
    throw new Refused('The PDF is cut off or damaged: its end is missing. Export it again.');
}
