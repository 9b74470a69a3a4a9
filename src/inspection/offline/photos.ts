import type { Actor } from '../../actor.ts';
import type { UploadedFile } from '../../attachments/multipart.ts';
import { recordAttachments, type AttachTo } from '../../attachments/service.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import { findOwnPhoto } from './deliver.ts';

/**
 * Keeps a photo that was announced and has come whole: with its finding, or with the late finding. Sent again, it answers what is kept already. The caller commits the bytes beforehand.
 *
 * @throws NotFound where this person announced no such photo
 */
export async function keepPhonePhoto(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly photoId: string; readonly file: UploadedFile },
): Promise<{ attachmentId: string }> {
  return useCase(deps, actor, 'finding.record', async (use) => {
    const { tx, at, append } = use;
    const { photoId } = input;
    const photo = await findOwnPhoto(tx, use.actor, photoId);
    if (photo.arrival !== null) return { attachmentId: photo.arrival.attachmentId };
    const { finding } = photo;
    const { findingId } = finding;
    const to: AttachTo =
      findingId === null
        ? { subject: 'phone_finding', subjectId: finding.id }
        : { subject: 'finding', subjectId: findingId };
    const [added] = await recordAttachments(use, { files: [input.file], caption: finding.check.title, to });
    if (added === undefined) throw new Error('one file makes one attachment');
    const { attachmentId } = added;
    await tx.phonePhotoArrival.create({
      data: { photoId, projectId: use.actor.projectId, attachmentId, at },
    });
    await append('photo.delivered', { photoId, attachmentId });
    return { attachmentId };
  });
}
