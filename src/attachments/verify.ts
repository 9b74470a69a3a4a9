import type { PrismaClient } from '../database/generated/client.ts';
import type { Break } from '../record/verify/report.ts';
import { HashFailure } from '../problems.ts';
import { hasItsHash } from './integrity.ts';
import type { BlobStore } from './storage/blob-store.ts';

const PAGE = 200;

/** One stored file, looked at once however many rows name it. */
interface Judged {
  readonly sha256: string;
  readonly size: number | null;
  /** What is wrong with the bytes themselves; null where they hold. */
  readonly sentence: string | null;
}

/**
 * Reads the bytes of every attachment of a project and holds them against the hash and size in its row. It goes by
 * hash, so that equal files come one after the other, and keeps nothing but the last one: a project of any size is
 * read in the same memory.
 *
 * @yields all that does not hold, as it is found. @returns how many rows of attachments there are.
 */
export async function* brokenFiles(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  blobs: BlobStore,
  projectId: string,
): AsyncGenerator<Break, number> {
  let files = 0;
  let last: Judged | null = null;
  let after = { sha256: '', id: '00000000-0000-0000-0000-000000000000' };
  for (;;) {
    const rows: { id: string; sha256: string; bytes: bigint }[] = await prisma.$queryRaw`
      SELECT id, sha256, bytes FROM attachment
      WHERE project_id = ${projectId}::uuid AND (sha256, id) > (${after.sha256}, ${after.id}::uuid)
      ORDER BY sha256, id LIMIT ${PAGE}`;
    for (const { id, sha256, bytes } of rows) {
      files += 1;
      if (last?.sha256 !== sha256) last = await judge(blobs, sha256);
      const sentence = problemOf(last, Number(bytes));
      if (sentence !== null) yield { table: 'attachment', row: id, sentence };
    }
    after = rows.at(-1) ?? after;
    if (rows.length < PAGE) return files;
  }
}

async function judge(blobs: BlobStore, sha256: string): Promise<Judged> {
  const size = await blobs.size(sha256);
  if (size === null) return { sha256, size, sentence: null };
  try {
    const whole = await hasItsHash(blobs, sha256);
    const sentence = whole ? null : 'Its stored bytes do not have the hash it is recorded with.';
    return { sha256, size, sentence };
  } catch (error) {
    if (error instanceof HashFailure) return { sha256, size, sentence: error.message };
    throw error;
  }
}

function problemOf({ size, sentence }: Judged, bytes: number): string | null {
  if (size === null) return 'Its stored file is missing.';
  if (size !== bytes) return `Its stored file has ${size} bytes, and ${bytes} were sent.`;
  return sentence;
}
