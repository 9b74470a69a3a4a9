import { createHash } from 'node:crypto';
import { PassThrough, Readable, type Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import yazl from 'yazl';
import type { ManifestEntry } from './manifest.ts';

export interface Archive {
  /** Writes one file to its end before it returns; what it reads waits for whoever takes the archive. */
  add: (name: string, bytes: AsyncIterable<Buffer | string>) => Promise<ManifestEntry>;
  /** Writes the end of the archive and waits until all of it is taken. */
  finish: () => Promise<void>;
  /** Ends everything under way. */
  abandon: (error: unknown) => Promise<void>;
}

/** A ZIP that is written as it is made: one file at a time, nothing of it held. */
export function openArchive(to: Writable, madeAt: Date): Archive {
  const zip = new yazl.ZipFile();
  const output = new PassThrough();
  zip.outputStream.pipe(output);
  let failed: (error: unknown) => void = () => undefined;
  const failure = new Promise<never>((_resolve, reject) => {
    failed = reject;
  });
  failure.catch(() => undefined);
  zip.on('error', failed);
  const written = pipeline(output, to);
  written.catch(failed);

  return {
    async add(name, bytes) {
      const sum = createHash('sha256');
      let length = 0;
      async function* summed(): AsyncGenerator<Buffer> {
        for await (const chunk of bytes) {
          const buffer = typeof chunk === 'string' ? Buffer.from(chunk, 'utf8') : chunk;
          sum.update(buffer);
          length += buffer.length;
          yield buffer;
        }
      }
      const stream = Readable.from(summed(), { objectMode: false });
      const ended = new Promise<void>((resolve, reject) => {
        stream.on('end', resolve).on('error', reject);
      });
      zip.addReadStream(stream, name, { mtime: madeAt, mode: 0o100644 });
      try {
        await Promise.race([ended, failure]);
      } catch (error) {
        stream.destroy();
        throw error;
      }
      return { name, bytes: length, sha256: sum.digest('hex') };
    },
    async finish() {
      zip.end();
      await Promise.race([written, failure]);
    },
    async abandon(error) {
      output.destroy(error instanceof Error ? error : new Error('The package was given up.'));
      await written.catch(() => undefined);
    },
  };
}
