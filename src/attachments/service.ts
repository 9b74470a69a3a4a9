import { randomUUID } from 'node:crypto';
import type { Actor } from '../actor.ts';
import type { AttachmentSubject } from '../database/generated/client.ts';
import { NotFound } from '../problems.ts';
import { attachmentDetailsHash, drawingWordsHash } from '../record/hash.ts';
import { useCase, type RecordDeps, type UseCase } from '../record/use-case.ts';
import type { UploadedFile } from './multipart.ts';
import { plainLetters } from './plain-words.ts';
import { hasObservation, subjects } from './subjects.ts';

export interface AttachTo {
  readonly subject: AttachmentSubject;
  readonly subjectId: string;
  /** An observation of a survey, where the subject is its item. Default: the whole. */
  readonly part?: string;
}

export interface AttachInput {
  readonly files: readonly UploadedFile[];
  readonly caption: string;
  readonly to: AttachTo;
  /** The uploader allows that where a photo was taken is kept in its row. Default: it is not. */
  readonly keepPosition?: boolean;
}

export interface AddedAttachment {
  readonly attachmentId: string;
  readonly sha256: string;
}

/**
 * Commits received files to the store, then writes their rows: a row never names bytes that are not there. Where
 * the rows are refused, the bytes stay in the store unnamed and the sweep takes them.
 *
 * @throws NotFound where what they are to be attached to is not in the actor's project.
 */
export async function addAttachments(
  deps: RecordDeps,
  actor: Actor,
  input: AttachInput,
): Promise<AddedAttachment[]> {
  for (const file of input.files) await file.received.commit();
  return useCase(deps, actor, 'attachment.add', (use) => recordAttachments(use, input));
}

/** The rows alone, for use cases that attach in their own transaction; the bytes are committed already. */
export async function recordAttachments(use: UseCase, input: AttachInput): Promise<AddedAttachment[]> {
  if (input.files.length === 0) return [];
  const { tx, actor, at } = use;
  const { subject, subjectId, part = '' } = input.to;
  if (!(await subjects[subject].isHere(tx, actor.projectId, subjectId))) {
    throw new NotFound('What this belongs to');
  }
  if (part !== '' && !(await hasObservation(use, input.to, part))) throw new NotFound('That observation');
  const added: AddedAttachment[] = [];
  for (const { received, mediaType, picture, drawing, originalName } of input.files) {
    const attachmentId = randomUUID();
    const { projectId } = actor;
    const { sha256, bytes } = received;
    const position = input.keepPosition === true ? (picture?.position ?? null) : null;
    const details = {
      originalName,
      caption: input.caption,
      widthPx: picture?.widthPx ?? null,
      heightPx: picture?.heightPx ?? null,
      capturedAt: picture?.capturedAt ?? null,
      latitude: position?.latitude ?? null,
      longitude: position?.longitude ?? null,
      pageCount: drawing?.pageCount ?? null,
    };
    const row = { id: attachmentId, projectId, sha256, bytes: BigInt(bytes), mediaType, ...details };
    await tx.attachment.create({
      data: { ...row, uploadedById: actor.personId, uploadedAt: at },
      select: { id: true },
    });
    const words = (drawing?.pages ?? []).flatMap((text, index) =>
      text.trim() === '' ? [] : [{ attachmentId, projectId, page: index + 1, text: plainLetters(text) }],
    );
    if (words.length > 0) await tx.drawingPage.createMany({ data: words });
    await tx.attachmentLink.create({ data: { attachmentId, projectId, subject, subjectId, part } });
    await use.append('attachment.added', {
      attachmentId,
      sha256,
      bytes,
      mediaType,
      subject,
      subjectId,
      part,
      detailsHash: attachmentDetailsHash(details),
      textHash: drawingWordsHash(words),
    });
    added.push({ attachmentId, sha256 });
  }
  return added;
}

/** Shows a photo or drawing to the owner, or takes it back from the owner's page. */
export async function shareAttachment(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly attachmentId: string; readonly shared: boolean },
): Promise<void> {
  await useCase(deps, actor, 'attachment.share', async ({ tx, append }) => {
    const { count } = await tx.attachment.updateMany({
      where: { id: input.attachmentId, projectId: actor.projectId },
      data: { sharedWithOwner: input.shared },
    });
    if (count === 0) throw new NotFound('That file');
    await append('attachment.shared', input);
  });
}
