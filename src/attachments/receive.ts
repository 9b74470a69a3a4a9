import type { Readable } from 'node:stream';
import { Transform } from 'node:stream';
import { Refused } from '../problems.ts';
import { isPicture, sniff, type AcceptedType } from './media-types.ts';
import { inspectPicture, type PictureFacts } from './pictures.ts';
import type { BlobStore, Received } from './storage/blob-store.ts';

export interface ReceivedFile {
  readonly received: Received;
  readonly mediaType: AcceptedType;
  readonly picture: PictureFacts | null;
}

/** The stream ended early: the sender's connection, or the parser's limit. */
export class UploadCutShort extends Error {
  override readonly name = 'UploadCutShort';
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
  const received = await store.receive(bytes.pipe(countTo(options.limitBytes)));
  try {
    if (options.wasCutShort()) throw tooLarge(options.limitBytes);
    const sniffed = await sniff(received.head);
    if (!sniffed.ok) throw new Refused(sniffed.sentence);
    const picture = isPicture(sniffed.mediaType) ? await inspect(received) : null;
    if (sniffed.mediaType === 'application/pdf') await checkPdfEnd(received);
    return { received, mediaType: sniffed.mediaType, picture };
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

function countTo(limitBytes: number): Transform {
  let total = 0;
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      total += chunk.length;
      if (total > limitBytes) done(tooLarge(limitBytes));
      else done(null, chunk);
    },
  });
}

async function inspect(received: Received): Promise<PictureFacts> {
  try {
    return await inspectPicture(received.reread());
  } catch {
    throw new Refused('The picture is damaged or too large to show. Take it again, or send it as JPEG.');
  }
}

/** ISO 32000-1, 7.5.5: the last line of a PDF is %%EOF; a cut-off upload has none near its end. */
async function checkPdfEnd(received: Received): Promise<void> {
  let tail = Buffer.alloc(0);
  for await (const chunk of received.reread() as AsyncIterable<Buffer>) {
    tail = Buffer.concat([tail, chunk]).subarray(-2048);
  }
  if (!tail.includes('%%EOF')) throw new Refused('The PDF is cut off or damaged: its end is missing.');
}
