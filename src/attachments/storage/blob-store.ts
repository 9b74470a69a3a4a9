import type { Readable } from 'node:stream';

/**
 * Bytes under their own SHA-256. Nothing half-written is ever visible: bytes go to a place of their own
 * first and appear under their hash all at once. No name of a user's reaches here.
 */
export interface BlobStore {
  /** Takes a stream to a temporary place; `commit` makes it visible, `discard` forgets it. */
  receive: (bytes: Readable) => Promise<Received>;
  /** Throws `BlobMissing` where there is none. `range` is inclusive, like HTTP's. */
  open: (sha256: string, range?: { start: number; end: number }) => Promise<Readable>;
  size: (sha256: string) => Promise<number | null>;
}

export interface Received {
  readonly sha256: string;
  readonly bytes: number;
  /** The first bytes, enough to tell the type by content. */
  readonly head: Buffer;
  /** Reads what was received, before it is committed. */
  readonly reread: () => Readable;
  readonly commit: () => Promise<void>;
  readonly discard: () => Promise<void>;
}

export class BlobMissing extends Error {
  override readonly name = 'BlobMissing';
}

const SHA256 = /^[0-9a-f]{64}$/;

/** The last line before a path or a key: only a hash passes. */
export function checkedHash(sha256: string): string {
  if (!SHA256.test(sha256)) throw new BlobMissing('That is not the name of a stored file.');
  return sha256;
}
