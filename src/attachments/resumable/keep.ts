import type { Actor } from '../../actor.ts';
import type { Upload } from '../../database/generated/client.ts';
import { NotFound } from '../../problems.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import type { UploadedFile } from '../multipart.ts';
import { recordAttachments } from '../service.ts';

/**
 * Keeps a file that came in pieces and is whole. Its row and the upload's end are one transaction: whatever ends the
 * process, and whichever process is asked again, the last piece sent twice is one file. The caller commits the bytes
 * beforehand.
 *
 * @returns the id of the attachment, of this call or of the one that kept it before
 * @throws NotFound where the upload is gone, or what it belongs to
 */
export async function keepUpload(
  deps: RecordDeps,
  actor: Actor,
  upload: Pick<Upload, 'id' | 'caption' | 'subject' | 'subjectId' | 'part' | 'keepPosition'>,
  file: UploadedFile,
): Promise<string> {
  return useCase(deps, actor, 'attachment.add', async (use) => {
    const { tx } = use;
    const where = { id: upload.id };
    const now = await tx.upload.findUnique({ where, select: { attachmentId: true } });
    if (now === null) throw new NotFound('That upload');
    if (now.attachmentId !== null) return now.attachmentId;
    const { caption, subject, subjectId, part, keepPosition } = upload;
    const to = { subject, subjectId, part };
    const [added] = await recordAttachments(use, { files: [file], caption, to, keepPosition });
    if (added === undefined) throw new Error('one file makes one attachment');
    const { attachmentId } = added;
    await tx.upload.update({ where, data: { attachmentId }, select: { id: true } });
    return attachmentId;
  });
}
