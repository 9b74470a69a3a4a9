import { randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { StorageFull } from '../../problems.ts';

/** Uploads on their way, on this machine's disk whatever the store is; only ids of ours become names. */
export interface PartialFiles {
  /** How much has arrived. */
  size: (uploadId: string) => Promise<number>;
  /** Adds what comes until it ends, breaks off or reaches `most`; what came before a break stays. */
  append: (uploadId: string, bytes: AsyncIterable<Buffer>, most: number) => Promise<void>;
  read: (uploadId: string) => Readable;
  remove: (uploadId: string) => Promise<void>;
  /** Forgets what nobody added to since `time`. */
  removeOlder: (time: Date) => Promise<number>;
}

export class TooMuchSent extends Error {
  override readonly name = 'TooMuchSent';
}

export function createPartialFiles(dataFolder: string): PartialFiles {
  const folder = path.resolve(dataFolder, 'uploads');
  const place = (uploadId: string) => {
    if (!/^[0-9a-f-]{36}$/.test(uploadId)) throw new Error('not the id of an upload');
    return path.join(folder, uploadId);
  };
  const sizeOf = (file: string) =>
    stat(file).then(
      ({ size }) => size,
      () => 0,
    );

  return {
    size: (uploadId) => sizeOf(place(uploadId)),
    async append(uploadId, bytes, most) {
      await mkdir(folder, { recursive: true });
      const file = await open(place(uploadId), 'a', 0o600);
      try {
        let { size } = await file.stat();
        for await (const chunk of bytes) {
          size += chunk.length;
          if (size > most) throw new TooMuchSent();
          await file.appendFile(chunk);
        }
        await file.sync();
      } catch (error) {
        const code = (error as NodeJS.ErrnoException).code;
        throw code === 'ENOSPC' || code === 'EDQUOT' ? new StorageFull() : error;
      } finally {
        await file.close();
      }
    },
    read: (uploadId) => createReadStream(place(uploadId)),
    remove: (uploadId) => rm(place(uploadId), { force: true }),
    async removeOlder(time) {
      let removed = 0;
      for (const name of await readdir(folder).catch(() => [])) {
        const file = path.join(folder, name);
        const modified = await stat(file).then(
          ({ mtime }) => mtime,
          () => null,
        );
        if (modified === null || modified >= time) continue;
        // Moved aside first: an upload that goes on at this moment starts anew and is told so by its offset.
        const aside = path.join(folder, `${randomUUID()}-old`);
        await rename(file, aside);
        await rm(aside, { force: true });
        removed += 1;
      }
      return removed;
    },
  };
}
