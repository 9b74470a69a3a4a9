import type { Actor } from '../actor.ts';
import type { Attachment } from '../database/generated/client.ts';
import { isPicture } from './media-types.ts';
import { carriesPlace } from './pictures.ts';
import type { BlobStore } from './storage/blob-store.ts';

/** When it was taken, by the camera's clock: for those who judge by it, and for whoever sent it. */
export function maySeeCaptureTime(actor: Actor, row: Pick<Attachment, 'uploadedById'>): boolean {
  return judgesByIt(actor) || actor.personId === row.uploadedById;
}

/** Where it was taken: only where whoever sent it said that it may be kept. */
export function maySeePosition(actor: Actor, row: Pick<Attachment, 'latitude'>): boolean {
  return judgesByIt(actor) && row.latitude !== null;
}

function judgesByIt({ role }: Actor): boolean {
  return role === 'engineer' || role === 'inspector';
}

/**
 * May this member download the file as it was sent? Not where it would tell what its row keeps from them: the owner gets
 * no photo with the camera's words in it, and where a photo was taken is in the file, too. They get a picture made from
 * it instead, upright and without metadata.
 */
export async function mayHaveOriginal(
  actor: Actor,
  row: Attachment,
  blobs: Pick<BlobStore, 'open'>,
): Promise<boolean> {
  if (!isPicture(row.mediaType)) return true;
  if (actor.role === 'owner') return false;
  if (actor.personId === row.uploadedById || maySeePosition(actor, row)) return true;
  return !(await carriesPlace(await blobs.open(row.sha256)));
}
