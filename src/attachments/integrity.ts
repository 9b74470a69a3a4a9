import { createHash } from 'node:crypto';
import { HashFailure } from '../problems.ts';
import type { BlobStore } from './storage/blob-store.ts';

/** How long a check that held is believed, so that a reader of many ranges does not read the whole each time. */
const BELIEVED_MS = 10 * 60_000;
const REMEMBERED = 10_000;

/** Reads a stored file whole and says whether it still has the hash it lies under. */
export async function hasItsHash(blobs: Pick<BlobStore, 'open'>, sha256: string): Promise<boolean> {
  const digest = createHash('sha256');
  for await (const chunk of (await blobs.open(sha256)) as AsyncIterable<Buffer>) digest.update(chunk);
  return digest.digest('hex') === sha256;
}

export interface IntegrityGuard {
  /** @throws HashFailure where the stored bytes are gone or are not those of the record. */
  check: (sha256: string, options?: { lately: boolean }) => Promise<void>;
}

/**
 * Stands before everything that is served: damaged bytes are never shown as the record's. `lately` believes a
 * check of the last ten minutes, for one range of many.
 */
export function createIntegrityGuard(
  blobs: Pick<BlobStore, 'open'>,
  clock: () => Date = () => new Date(),
): IntegrityGuard {
  const held = new Map<string, number>();
  return {
    async check(sha256, options = { lately: false }) {
      const now = clock().getTime();
      const before = held.get(sha256);
      if (options.lately && before !== undefined && now - before < BELIEVED_MS) return;
      held.delete(sha256);
      if (!(await hasItsHash(blobs, sha256))) {
        throw new HashFailure(
          `Hash failure: the stored bytes are not those that were sent (${sha256.slice(0, 12)}…). They are not shown. Send the file again to mend it.`,
        );
      }
      held.set(sha256, now);
      const [oldest] = held.keys();
      if (held.size > REMEMBERED && oldest !== undefined) held.delete(oldest);
    },
  };
}
