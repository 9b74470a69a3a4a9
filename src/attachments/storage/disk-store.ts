import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { StorageFull } from '../../problems.ts';
import { BlobMissing, checkedHash, HEAD_BYTES, isHash, type BlobStore, type Received } from './blob-store.ts';

/** Of a random UUID as text (RFC 9562). */
const ID_LENGTH = 36;

/** Files in two levels of folders by the first digits of the hash; uploads under way in `incoming`. */
export function createDiskStore(folder: string): BlobStore {
  const incoming = path.join(folder, 'incoming');
  const place = (sha256: string) => path.join(folder, 'blobs', sha256.slice(0, 2), checkedHash(sha256));

  return {
    async receive(bytes) {
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

    async *writtenBefore(time) {
      for (const shelf of await namesIn(path.join(folder, 'blobs'))) {
        for (const sha256 of await namesIn(path.join(folder, 'blobs', shelf))) {
          if (isHash(sha256) && (await isOlder(place(sha256), time))) yield sha256;
        }
      }
    },

    async removeUnnamed(sha256, time, isNamed) {
      // Moved aside first: an upload of the same bytes that commits meanwhile puts its own in the place.
      // Its name keeps the hash: a process that ends before the last look leaves what can be put back.
      const aside = path.join(incoming, `${randomUUID()}-${checkedHash(sha256)}`);
      await mkdir(incoming, { recursive: true });
      if ((await sizeOf(place(sha256))) === null) return false;
      await rename(place(sha256), aside);
      if ((await isOlder(aside, time)) && !(await isNamed())) {
        await rm(aside, { force: true });
        return true;
      }
      await rename(aside, place(sha256));
      return false;
    },

    async forgetUnfinished(time) {
      let forgotten = 0;
      for (const name of await namesIn(incoming)) {
        const file = path.join(incoming, name);
        if (!(await isOlder(file, time))) continue;
        const setAside = name.slice(ID_LENGTH + 1);
        if (isHash(setAside) && (await sizeOf(place(setAside))) === null) {
          await mkdir(path.dirname(place(setAside)), { recursive: true });
          await rename(file, place(setAside));
          continue;
        }
        await rm(file, { force: true });
        forgotten += 1;
      }
      return forgotten;
    },
  };
}

async function namesIn(folder: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}

/** What is gone meanwhile is not older. */
async function isOlder(file: string, time: Date): Promise<boolean> {
  try {
    return (await stat(file)).mtime < time;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false;
    throw error;
  }
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
  bytes: AsyncIterable<Buffer>,
  place: (sha256: string) => string,
): Promise<Received> {
  const digest = createHash('sha256');
  const head: Buffer[] = [];
  let headLength = 0;
  let total = 0;
  const discard = () => rm(temporary, { force: true });

  const file = await open(temporary, 'wx', 0o600);
  try {
    for await (const chunk of bytes) {
      digest.update(chunk);
      if (headLength < HEAD_BYTES) {
        head.push(Buffer.from(chunk.subarray(0, HEAD_BYTES - headLength)));
        headLength += head.at(-1)?.length ?? 0;
      }
      total += chunk.length;
      await writeAll(file, chunk);
    }
    await file.sync();
    await file.close();
  } catch (error) {
    await file.close().catch(() => undefined);
    await discard();
    throw asStorageFull(error);
  }

  const sha256 = digest.digest('hex');
  return {
    sha256,
    bytes: total,
    head: Buffer.concat(head),
    reread: (range) => createReadStream(temporary, range ?? {}),
    discard,
    async commit() {
      const target = place(sha256);
      try {
        await mkdir(path.dirname(target), { recursive: true });
        // The same bytes again take the place of the old ones: a damaged file is mended by sending it again, and
        // its new time keeps the sweep away until the row is there.
        await rename(temporary, target);
        await syncFolder(path.dirname(target));
      } catch (error) {
        throw asStorageFull(error);
      }
    },
  };
}

function asStorageFull(error: unknown): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  return code === 'ENOSPC' || code === 'EDQUOT' ? new StorageFull() : error;
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
