import { PreconditionFailed, PreconditionNeeded } from '../problems/refusals.ts';

/** The tag of a version (RFC 9110, section 8.8.3): its number, and its hash, which covers all that it holds. */
export function versionTag(version: { readonly number: number; readonly hash: string }): string {
  return `"${version.number}-${version.hash}"`;
}

export interface Based {
  readonly number: number;
  readonly hash: string | null;
}

const TAG = /^"(\d{1,9})-([0-9a-f]{64})"$/;

/**
 * What a save says it is based on: the version of If-Match; nothing at all by `If-None-Match: *`.
 *
 * @throws PreconditionNeeded where it says neither. @throws PreconditionFailed for anything that is no tag of ours: one
 * tag is taken and `*` is not, since nobody saves over what they have not seen.
 */
export function basedOn(ifMatch: string | undefined, ifNoneMatch: string | undefined): Based {
  if (ifMatch === undefined) {
    if (ifNoneMatch?.trim() === '*') return { number: 0, hash: null };
    throw new PreconditionNeeded(
      'Name what this is based on: If-Match with the tag of the newest version, or If-None-Match: * where there is none yet.',
    );
  }
  const [, number, hash] = TAG.exec(ifMatch.trim()) ?? [];
  if (number === undefined || hash === undefined) {
    throw new PreconditionFailed('If-Match does not hold one tag of a version of this item.', null);
  }
  return { number: Number(number), hash };
}
