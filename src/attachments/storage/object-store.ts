import { createHash, randomUUID } from 'node:crypto';
import { Readable } from 'node:stream';
import {
  AbortMultipartUploadCommand,
  CopyObjectCommand,
  DeleteObjectCommand,
  GetObjectCommand,
  HeadObjectCommand,
  paginateListObjectsV2,
  ListMultipartUploadsCommand,
  S3Client,
  S3ServiceException,
} from '@aws-sdk/client-s3';
import { Upload } from '@aws-sdk/lib-storage';
import { Problem, StorageFull, StorageUnavailable } from '../../problems.ts';
import {
  BlobMissing,
  checkedHash,
  HEAD_BYTES,
  isHash,
  type BlobStore,
  type ByteRange,
  type Received,
} from './blob-store.ts';

export interface ObjectStoreSettings {
  readonly endpoint: string;
  readonly bucket: string;
  readonly region: string;
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
  /** Milliseconds without a byte until a request counts as failed. Default 30 s. */
  readonly patienceMs?: number;
}

/** One part is held in memory at a time; S3 wants at least 5 MiB in each but the last. */
const PART_BYTES = 8 * 1024 * 1024;
const ATTEMPTS = 3;

/**
 * Any store that speaks the S3 protocol. Bytes go in parts to a key of their own, are copied to the key of their hash
 * once they are known to be whole, and the first key is deleted: a copy appears all at once.
 */
export function createObjectStore(settings: ObjectStoreSettings): BlobStore {
  const { bucket: Bucket, patienceMs = 30_000 } = settings;
  const client = new S3Client({
    endpoint: settings.endpoint,
    region: settings.region,
    credentials: { accessKeyId: settings.accessKeyId, secretAccessKey: settings.secretAccessKey },
    forcePathStyle: true,
    // Stores other than the first to speak S3 often know none of the newer checksums; bytes are hashed here anyway.
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
    maxAttempts: ATTEMPTS,
    requestHandler: {
      connectionTimeout: Math.min(5_000, patienceMs),
      requestTimeout: patienceMs,
      throwOnRequestTimeout: true,
    },
  });
  const place = (sha256: string) => `blobs/${sha256.slice(0, 2)}/${checkedHash(sha256)}`;

  async function head(Key: string): Promise<{ bytes: number; modified: Date } | null> {
    try {
      const { ContentLength, LastModified } = await client.send(new HeadObjectCommand({ Bucket, Key }));
      return { bytes: ContentLength ?? 0, modified: LastModified ?? new Date() };
    } catch (error) {
      if (isMissing(error)) return null;
      throw asProblem(error);
    }
  }

  async function get(Key: string, range?: ByteRange): Promise<Readable> {
    try {
      const { Body } = await client.send(
        new GetObjectCommand({
          Bucket,
          Key,
          ...(range === undefined ? {} : { Range: `bytes=${range.start}-${range.end}` }),
        }),
      );
      if (!(Body instanceof Readable)) throw new StorageUnavailable();
      return unbroken(Body);
    } catch (error) {
      throw isMissing(error) ? new BlobMissing('The stored file is missing.') : asProblem(error);
    }
  }

  const remove = (Key: string) => tried(client.send(new DeleteObjectCommand({ Bucket, Key })));

  async function* listed(Prefix: string): AsyncGenerator<{ key: string; modified: Date }> {
    try {
      for await (const page of paginateListObjectsV2({ client }, { Bucket, Prefix })) {
        for (const { Key, LastModified } of page.Contents ?? []) {
          if (Key !== undefined && LastModified !== undefined) yield { key: Key, modified: LastModified };
        }
      }
    } catch (error) {
      throw asProblem(error);
    }
  }

  async function abandonParts(before: Date): Promise<number> {
    let abandoned = 0;
    const { Uploads } = await tried(
      client.send(new ListMultipartUploadsCommand({ Bucket, Prefix: 'incoming/' })),
    );
    for (const { Key, UploadId, Initiated } of Uploads ?? []) {
      if (Initiated === undefined || Initiated >= before) continue;
      await tried(client.send(new AbortMultipartUploadCommand({ Bucket, Key, UploadId })));
      abandoned += 1;
    }
    return abandoned;
  }

  async function receive(bytes: AsyncIterable<Buffer>): Promise<Received> {
    const key = `incoming/${randomUUID()}`;
    const digest = createHash('sha256');
    const start: Buffer[] = [];
    let startLength = 0;
    let total = 0;
    let senderFailed: Error | undefined;
    async function* watched(): AsyncGenerator<Buffer> {
      try {
        for await (const chunk of bytes) {
          digest.update(chunk);
          total += chunk.length;
          if (startLength < HEAD_BYTES) {
            start.push(Buffer.from(chunk.subarray(0, HEAD_BYTES - startLength)));
            startLength += start.at(-1)?.length ?? 0;
          }
          yield chunk;
        }
      } catch (error) {
        senderFailed = error instanceof Error ? error : new Error(String(error));
        throw error;
      }
    }
    const upload = new Upload({
      client,
      params: { Bucket, Key: key, Body: Readable.from(watched(), { objectMode: false }) },
      partSize: PART_BYTES,
      queueSize: 1,
      leavePartsOnError: false,
    });
    try {
      await upload.done();
    } catch (error) {
      // The parts were given up by the uploader; a small file went in one piece or not at all.
      throw senderFailed ?? asProblem(error);
    }
    const sha256 = digest.digest('hex');
    let there = true;
    const discard = async () => {
      if (!there) return;
      there = false;
      // What can't be deleted now is the sweep's.
      await remove(key).catch(() => undefined);
    };
    return {
      sha256,
      bytes: total,
      head: Buffer.concat(start),
      reread: (range) =>
        Readable.from(
          (async function* () {
            yield* (await get(key, range)) as AsyncIterable<Buffer>;
          })(),
          { objectMode: false },
        ),
      discard,
      async commit() {
        const CopySource = `${Bucket}/${key}`;
        await tried(client.send(new CopyObjectCommand({ Bucket, Key: place(sha256), CopySource })));
        await discard();
      },
    };
  }

  return {
    receive,
    open: async (sha256, range) => get(place(sha256), range),
    size: async (sha256) => (await head(place(sha256)))?.bytes ?? null,

    async *writtenBefore(time) {
      for await (const { key, modified } of listed('blobs/')) {
        const sha256 = key.split('/').at(-1) ?? '';
        if (isHash(sha256) && modified < time) yield sha256;
      }
    },

    async removeUnnamed(sha256, time, isNamed) {
      const found = await head(place(sha256));
      if (found === null || found.modified >= time || (await isNamed())) return false;
      await remove(place(sha256));
      return true;
    },

    async forgetUnfinished(time) {
      let forgotten = await abandonParts(time);
      for await (const { key, modified } of listed('incoming/')) {
        if (modified >= time) continue;
        await remove(key);
        forgotten += 1;
      }
      return forgotten;
    },
  };
}

/** The bytes as they come; a line that breaks off in the middle is a store that does not answer, not a damaged file. */
function unbroken(body: Readable): Readable {
  const bytes = async function* () {
    try {
      yield* body as AsyncIterable<Buffer>;
    } catch (error) {
      throw asProblem(error);
    }
  };
  return Readable.from(bytes(), { objectMode: false });
}

async function tried<Result>(work: Promise<Result>): Promise<Result> {
  try {
    return await work;
  } catch (error) {
    throw asProblem(error);
  }
}

function isMissing(error: unknown): boolean {
  return error instanceof S3ServiceException && error.$metadata.httpStatusCode === 404;
}

/** No room is told apart from no answer; whatever else the store says is a store that can't be used now. */
function asProblem(error: unknown): Error {
  if (error instanceof Problem) return error;
  if (error instanceof S3ServiceException) {
    const full = error.$metadata.httpStatusCode === 507 || /quota|storagefull/i.test(error.name);
    if (full) return new StorageFull();
  }
  return new StorageUnavailable(error);
}
