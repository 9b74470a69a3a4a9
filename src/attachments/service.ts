import { randomUUID } from 'node:crypto';
import type { Actor } from '../actor.ts';
import type { AttachmentSubject } from '../database/generated/client.ts';
import { NotFound } from '../problems.ts';
import type { Transaction } from '../record/events/append.ts';
import { sha256Hex } from '../record/canonical.ts';
import { attachmentDetailsHash } from '../record/hash.ts';
import { useCase, type RecordDeps, type UseCase } from '../record/use-case.ts';
import type { UploadedFile } from './multipart.ts';

export interface AttachTo {
  readonly subject: AttachmentSubject;
  readonly subjectId: string;
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
  const { tx, actor, at } = use;
  const { subject, subjectId } = input.to;
  if (!(await subjectIsHere(tx, actor.projectId, input.to))) throw new NotFound('What this belongs to');
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
    const text = drawing === null || drawing.text.trim() === '' ? null : drawing.text;
    if (text !== null) await tx.attachmentText.create({ data: { attachmentId, projectId, text } });
    await tx.attachmentLink.create({ data: { attachmentId, projectId, subject, subjectId } });
    await use.append('attachment.added', {
      attachmentId,
      sha256,
      bytes,
      mediaType,
      subject,
      subjectId,
      detailsHash: attachmentDetailsHash(details),
      textHash: text === null ? '' : sha256Hex(text),
    });
    added.push({ attachmentId, sha256 });
  }
  return added;
}

async function subjectIsHere(
  tx: Transaction,
  projectId: string,
  { subject, subjectId: id }: AttachTo,
): Promise<boolean> {
  const where = { where: { id, projectId }, select: { id: true } } as const;
  switch (subject) {
    case 'project':
      return id === projectId;
    case 'opening':
      return (await tx.opening.findFirst(where)) !== null;
    case 'item':
      return (await tx.item.findFirst(where)) !== null;
    case 'version':
      return (await tx.version.findFirst(where)) !== null;
    case 'finding':
      return (await tx.finding.findFirst(where)) !== null;
    case 'correction_answer':
      return (await tx.correctionAnswer.findFirst(where)) !== null;
    case 'question':
      return (await tx.question.findFirst(where)) !== null;
    case 'phone_finding':
      return (await tx.phoneFinding.findFirst(where)) !== null;
  }
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
