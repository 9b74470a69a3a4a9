import type { Clock } from '../actor.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import { createPartialFiles } from './resumable/partial-files.ts';
import type { BlobStore } from './storage/blob-store.ts';

/** What no row names is left alone this long: its upload may be about to write the row. */
const LEFT_ALONE_MS = 60 * 60_000;
/** A phone may be without a connection for a night. */
const UPLOADS_LEFT_ALONE_MS = 24 * 60 * 60_000;
const INTERVAL_MS = 60 * 60_000;

export interface SweepDeps {
  readonly prisma: PrismaClient;
  readonly blobs: BlobStore;
  readonly clock: Clock;
  readonly config: { readonly dataFolder: string };
}

export interface Swept {
  /** Stored files that no row names. */
  readonly removed: number;
  /** Uploads that never came to their end. */
  readonly forgotten: number;
}

/**
 * Takes away what uploads left behind: stored files without a row and half-received ones, older than an hour. A
 * database that names no file at all is more likely the wrong one than a store of nothing but leftovers: then stored
 * files are left alone.
 */
export async function sweep(deps: SweepDeps): Promise<Swept> {
  const before = new Date(deps.clock().getTime() - LEFT_ALONE_MS);
  const dayAgo = new Date(deps.clock().getTime() - UPLOADS_LEFT_ALONE_MS);
  await deps.prisma.upload.deleteMany({ where: { createdAt: { lt: dayAgo } } });
  const forgotten =
    (await deps.blobs.forgetUnfinished(before)) +
    (await createPartialFiles(deps.config.dataFolder).removeOlder(dayAgo));
  if ((await deps.prisma.attachment.findFirst({ select: { id: true } })) === null) {
    return { removed: 0, forgotten };
  }
  let removed = 0;
  for await (const sha256 of deps.blobs.writtenBefore(before)) {
    const isNamed = async () =>
      (await deps.prisma.attachment.findFirst({ where: { sha256 }, select: { id: true } })) !== null;
    if (await isNamed()) continue;
    if (await deps.blobs.removeUnnamed(sha256, before, isNamed)) removed += 1;
  }
  return { removed, forgotten };
}

/**
 * Sweeps now and every hour; a sweep that fails is told of and tried again at the next hour.
 *
 * @returns ends the sweeping, after the one under way.
 */
export function sweepRegularly(
  deps: SweepDeps,
  tell: { swept: (swept: Swept) => void; failed: (error: unknown) => void },
): () => Promise<void> {
  let running = Promise.resolve();
  const run = () => {
    running = running.then(async () => {
      try {
        tell.swept(await sweep(deps));
      } catch (error) {
        tell.failed(error);
      }
    });
  };
  run();
  const timer = setInterval(run, INTERVAL_MS);
  timer.unref();
  return async () => {
    clearInterval(timer);
    await running;
  };
}
