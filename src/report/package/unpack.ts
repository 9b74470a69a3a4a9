import { createHash } from 'node:crypto';
import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import yauzl from 'yauzl';
import { Broken } from '../../record/verify/report.ts';
import { ENTRY_NAME, MANIFEST, manifestSchema, SUMS, sumsOf, type Manifest } from './manifest.ts';

/** The manifest is read into memory: what it lists fits into this. */
const MANIFEST_BYTES = 64 * 1024 * 1024;
/** Entries that a package may have before its manifest is known. */
const ENTRIES = 500_000;
/** Rows of a record, alike as they are, shrink to a hundredth at most; only what was made to swell shrinks more. */
const SWELLS = { from: 1024 * 1024, times: 500 };
const LINK = 0o120000;
const KIND_OF_FILE = 0o170000;

export interface Package {
  readonly manifest: Manifest;
  readonly names: readonly string[];
  /** Reads a file, and ends in `Broken` where its bytes are not those of the manifest. */
  read: (name: string) => AsyncGenerator<Buffer>;
  close: () => void;
}

const broken = (name: string, sentence: string) => new Broken('package', name, sentence);

/**
 * Opens a package that anybody may have made: names that lead elsewhere, links, names twice, files that the manifest
 * does not have and sizes other than its own are refused before anything is read.
 *
 * @throws Broken, which names the file.
 */
export async function openPackage(file: string): Promise<Package> {
  const zip = await open(file);
  try {
    const entries = await entriesOf(zip);
    const manifest = await readManifest(zip, entries);
    const known = new Map(manifest.entries.map((entry) => [entry.name, entry]));
    if (known.size !== manifest.entries.length) throw broken(MANIFEST, 'The manifest has a name twice.');
    for (const name of entries.keys()) {
      if (!known.has(name) && name !== MANIFEST && name !== SUMS) {
        throw broken(name, 'The manifest does not have this file.');
      }
    }
    for (const { name, bytes } of manifest.entries) {
      const entry = entries.get(name);
      if (entry === undefined) throw broken(name, 'The manifest has it, and the package does not.');
      if (entry.uncompressedSize !== bytes) throw broken(name, 'Its size is not that of the manifest.');
    }
    return {
      manifest,
      names: [...known.keys()],
      async *read(name) {
        const said = known.get(name);
        const entry = entries.get(name);
        if (said === undefined || entry === undefined) throw broken(name, 'The package does not have it.');
        const sum = createHash('sha256');
        for await (const chunk of chunks(zip, entry)) {
          sum.update(chunk);
          yield chunk;
        }
        if (sum.digest('hex') !== said.sha256)
          throw broken(name, 'Its bytes do not have the hash of the manifest.');
      },
      close: () => {
        zip.close();
      },
    };
  } catch (error) {
    zip.close();
    throw error;
  }
}

function open(file: string): Promise<yauzl.ZipFile> {
  return new Promise((resolve, reject) => {
    yauzl.open(file, { lazyEntries: true, autoClose: false, validateEntrySizes: true }, (error, zip) => {
      if (error)
        reject(isSystem(error) ? error : broken(file, `It is no ZIP that can be read: ${error.message}`));
      else resolve(zip);
    });
  });
}

const isSystem = (error: Error) => typeof (error as NodeJS.ErrnoException).code === 'string';

function entriesOf(zip: yauzl.ZipFile): Promise<Map<string, yauzl.Entry>> {
  const entries = new Map<string, yauzl.Entry>();
  return new Promise((resolve, reject) => {
    zip.on('error', (error: Error) => {
      reject(broken('the list of files', error.message));
    });
    zip.on('end', () => {
      resolve(entries);
    });
    zip.on('entry', (entry: yauzl.Entry) => {
      const problem = problemOf(entry, entries);
      if (problem !== null) {
        reject(broken(entry.fileName, problem));
        return;
      }
      entries.set(entry.fileName, entry);
      zip.readEntry();
    });
    zip.readEntry();
  });
}

function problemOf(entry: yauzl.Entry, entries: ReadonlyMap<string, unknown>): string | null {
  const { fileName } = entry;
  if (fileName !== SUMS && !ENTRY_NAME.test(fileName)) return 'No file of a package is called that.';
  if (entries.has(fileName)) return 'The package has this name twice.';
  if (entries.size >= ENTRIES) return `A package has at most ${ENTRIES} files.`;
  if (((entry.externalFileAttributes >>> 16) & KIND_OF_FILE) === LINK) return 'It is a link, not a file.';
  if (entry.isEncrypted()) return 'It is encrypted.';
  if (entry.uncompressedSize > Math.max(SWELLS.from, SWELLS.times * entry.compressedSize)) {
    return 'It would swell to far more than a record does.';
  }
  return null;
}

async function readManifest(
  zip: yauzl.ZipFile,
  entries: ReadonlyMap<string, yauzl.Entry>,
): Promise<Manifest> {
  const text = await small(zip, entries, MANIFEST);
  const sums = await small(zip, entries, SUMS);
  let manifest: Manifest;
  try {
    manifest = manifestSchema.parse(JSON.parse(text));
  } catch (error) {
    throw broken(
      MANIFEST,
      `It is no manifest of a package: ${error instanceof Error ? error.message : 'unreadable'}`,
    );
  }
  const sha256 = createHash('sha256').update(text, 'utf8').digest('hex');
  if (sums !== sumsOf([...manifest.entries, { name: MANIFEST, sha256 }])) {
    throw broken(SUMS, 'The list of sums is not that of the manifest.');
  }
  return manifest;
}

async function small(
  zip: yauzl.ZipFile,
  entries: ReadonlyMap<string, yauzl.Entry>,
  name: string,
): Promise<string> {
  const entry = entries.get(name);
  if (entry === undefined) throw broken(name, 'The package does not have it.');
  if (entry.uncompressedSize > MANIFEST_BYTES) throw broken(name, 'It is longer than any of this kind.');
  return (await buffer(chunks(zip, entry))).toString('utf8');
}

/** The bytes of one file; never more than the directory of the ZIP says, whatever the compressed bytes unfold to. */
async function* chunks(zip: yauzl.ZipFile, entry: yauzl.Entry): AsyncGenerator<Buffer> {
  const name = entry.fileName;
  let stream: Readable | undefined;
  try {
    stream = await new Promise<Readable>((resolve, reject) => {
      zip.openReadStream(entry, (error, opened) => {
        if (error) reject(error);
        else resolve(opened);
      });
    });
    for await (const chunk of stream) yield chunk as Buffer;
  } catch (error) {
    if (error instanceof Broken) throw error;
    throw broken(name, `It can’t be unpacked: ${error instanceof Error ? error.message : 'damaged'}`);
  } finally {
    stream?.destroy();
  }
}
