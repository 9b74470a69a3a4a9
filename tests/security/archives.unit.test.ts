import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buffer } from 'node:stream/consumers';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import yazl from 'yazl';
import { openPackage } from '../../src/report/package/unpack.ts';

/** Packages as somebody would send them who wants the reader to fall; honest ones are in tests/report/package. */
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-archives-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function zipped(name: string, bytes: Buffer, change?: (zip: Buffer) => void): Promise<string> {
  const zip = new yazl.ZipFile();
  zip.addBuffer(bytes, name, { compress: true });
  zip.end();
  const made = await buffer(zip.outputStream);
  change?.(made);
  const file = path.join(folder, `${String(made.length)}-${encodeURIComponent(name)}.zip`);
  await writeFile(file, made);
  return file;
}

describe('an archive', () => {
  it('one that would swell beyond its claim is given up', async () => {
    // A thousand to one: the most that deflate can do, and no record does.
    await expect(openPackage(await zipped('manifest.json', Buffer.alloc(32 * 1024 * 1024)))).rejects.toThrow(
      'It would swell to far more than a record does.',
    );
    // The directory says ten bytes; the data is longer than it says.
    const lying = await zipped('manifest.json', Buffer.from('x'.repeat(5000)), (zip) => {
      const directory = zip.lastIndexOf(Buffer.from('504b0102', 'hex'));
      zip.writeUInt32LE(10, directory + 24);
    });
    await expect(openPackage(lying)).rejects.toThrow();
  });

  it('no name of one leads out of it', async () => {
    for (const name of ['manifest.json ', 'rows/%2e%2e/x', 'a\u0000b', '.ssh/authorized_keys']) {
      await expect(openPackage(await zipped(name, Buffer.from('{}')))).rejects.toThrow(
        'No file of a package is called that.',
      );
    }
  });
});
