import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { BlobMissing, checkedHash, type BlobStore, type Received } from './blob-store.ts';

/** Enough for every signature that file-type knows of the kinds we take. */
const HEAD_BYTES = 4_100;

/** Files in two levels of folders by the first digits of the hash; uploads under way in `incoming`. */
export function createDiskStore(folder: string): BlobStore {
  const place = (sha256: string) => path.join(folder, 'blobs', sha256.slice(0, 2), checkedHash(sha256));

  return {
    async receive(bytes) {
      const incoming = path.join(folder, 'incoming');
      await mkdir(incoming, { recursive: true });
      const temporary = path.join(incoming, randomUUID());
      return receiveInto(temporary, bytes, place);
    },
    async open(sha256, range) {
      const file = place(sha256);
      if ((await sizeOf(file)) === null) throw new BlobMissing('The stored file is missing.');
      return createReadStream(file, range ?? {});
    },
    size: (sha256) => sizeOf(place(sha256)),
  };
}

async function sizeOf(file: string): Promise<number | null> {
  try {
    return (await stat(file)).size;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

async function receiveInto(
  temporary: string,
  bytes: Readable,
  place: (sha256: string) => string,
): Promise<Received> {
  const digest = createHash('sha256');
  const head: Buffer[] = [];
  let headLength = 0;
  let total = 0;
  const discard = () => rm(temporary, { force: true });

  const file = await open(temporary, 'wx', 0o600);
  try {
    for await (const chunk of bytes as AsyncIterable<Buffer>) {
      digest.update(chunk);
      if (headLength < HEAD_BYTES) {
        head.push(Buffer.from(chunk.subarray(0, HEAD_BYTES - headLength)));
        headLength += head.at(-1)?.length ?? 0;
      }
      total += chunk.length;
      await writeAll(file, chunk);
    }
    await file.sync();
  } catch (error) {
    await file.close();
    await discard();
    throw error;
  }
  await file.close();

  const sha256 = digest.digest('hex');
  return {
    sha256,
    bytes: total,
    head: Buffer.concat(head),
    reread: () => createReadStream(temporary),
    discard,
    async commit() {
      const target = place(sha256);
      // The same bytes again: what is stored already is theirs, too.
      if ((await sizeOf(target)) === total) {
        await discard();
        return;
      }
      await mkdir(path.dirname(target), { recursive: true });
      await rename(temporary, target);
      await syncFolder(path.dirname(target));
    },
  };
}

async function writeAll(file: Awaited<ReturnType<typeof open>>, chunk: Buffer): Promise<void> {
  let written = 0;
  while (written < chunk.length) {
    const { bytesWritten } = await file.write(chunk, written);
    written += bytesWritten;
  }
}

/** A rename is safe on power loss only once its folder is written, too. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
