import type { PrismaClient } from '../database/generated/client.ts';
import type { Break } from '../record/verify/report.ts';
import { HashFailure } from '../problems.ts';
import { hasItsHash } from './integrity.ts';
import type { BlobStore } from './storage/blob-store.ts';

export interface VerifiedFiles {
  /** Rows of attachments whose bytes were read. */
  readonly files: number;
  /** All that does not hold, in the order in which it was sent. */
  readonly broken: readonly Break[];
}

const PAGE = 200;

/** Reads the bytes of every attachment of a project and holds them against the hash and size in its row. */
export async function verifyFiles(
  prisma: PrismaClient,
  blobs: BlobStore,
  projectId: string,
): Promise<VerifiedFiles> {
  let files = 0;
  const broken: Break[] = [];
  const judged = new Map<string, string | null>();
  for (let after: string | undefined; ;) {
    const rows = await prisma.attachment.findMany({
      where: { projectId },
      orderBy: [{ uploadedAt: 'asc' }, { id: 'asc' }],
      take: PAGE,
      ...(after === undefined ? {} : { cursor: { id: after }, skip: 1 }),
    });
    for (const { id, sha256, bytes } of rows) {
      files += 1;
      const sentence = judged.get(sha256) ?? (await judge(blobs, sha256, Number(bytes)));
      judged.set(sha256, sentence);
      if (sentence !== null) broken.push({ table: 'attachment', row: id, sentence });
    }
    after = rows.at(-1)?.id;
    if (rows.length < PAGE) return { files, broken };
  }
}

async function judge(blobs: BlobStore, sha256: string, bytes: number): Promise<string | null> {
  const size = await blobs.size(sha256);
  if (size === null) return 'Its stored file is missing.';
  if (size !== bytes) return `Its stored file has ${size} bytes, and ${bytes} were sent.`;
  try {
    return (await hasItsHash(blobs, sha256))
      ? null
      : 'Its stored bytes do not have the hash it is recorded with.';
  } catch (error) {
    if (error instanceof HashFailure) return error.message;
    throw error;
  }
}
