import type { Readable } from 'node:stream';
import { HashFailure } from '../../problems.ts';

/**
 * Bytes under their own SHA-256. Nothing half-written is ever visible: bytes go to a place of their own
 * first and appear under their hash all at once. No name of a user's reaches here.
 */
export interface BlobStore {
  /** Takes a stream to a temporary place; `commit` makes it visible, `discard` forgets it. */
  receive: (bytes: AsyncIterable<Buffer>) => Promise<Received>;
  /** Throws `BlobMissing` where there is none. `range` is inclusive, like HTTP's. */
  open: (sha256: string, range?: ByteRange) => Promise<Readable>;
  size: (sha256: string) => Promise<number | null>;
  /** The stored files last written before a time, for the sweep. */
  writtenBefore: (time: Date) => AsyncIterable<string>;
  /**
   * Removes a file that was last written before `time`, unless `isNamed`, asked at the last moment, says that a
   * row names it. Says whether it is gone.
   */
  removeUnnamed: (sha256: string, time: Date, isNamed: () => Promise<boolean>) => Promise<boolean>;
  /** Forgets what uploads begun before `time` left half-received; how many. */
  forgetUnfinished: (time: Date) => Promise<number>;
}

/** Both ends are inside, as in HTTP. */
export interface ByteRange {
  readonly start: number;
  readonly end: number;
}

export interface Received {
  readonly sha256: string;
  readonly bytes: number;
  /** The first bytes, enough to tell the type by content. */
  readonly head: Buffer;
  /** Reads what was received, before it is committed. */
  readonly reread: (range?: ByteRange) => Readable;
  readonly commit: () => Promise<void>;
  readonly discard: () => Promise<void>;
}

/** Enough for every signature that file-type knows of the kinds we take. */
export const HEAD_BYTES = 4_100;

export class BlobMissing extends HashFailure {}

const SHA256 = /^[0-9a-f]{64}$/;

export function isHash(text: string): boolean {
  return SHA256.test(text);
}

/** The last line before a path or a key: only a hash passes. */
export function checkedHash(sha256: string): string {
  if (!isHash(sha256)) throw new BlobMissing('That is not the name of a stored file.');
  return sha256;
}
