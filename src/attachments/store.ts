import type {
  Attachment,
  AttachmentLink,
  AttachmentSubject,
  PrismaClient,
} from '../database/generated/client.ts';
import type { Role } from '../people/roles.ts';
import { readTimeCursor, writeTimeCursor } from '../record/time-cursor.ts';
import { isPicture } from './media-types.ts';

export interface AttachmentView {
  readonly attachmentId: string;
  readonly subjectId: string;
  /** The observation of a survey that it belongs to; '' for the whole. */
  readonly part: string;
  readonly originalName: string;
  readonly caption: string;
  readonly mediaType: string;
  readonly isPicture: boolean;
  readonly bytes: number;
  readonly sha256: string;
  readonly sharedWithOwner: boolean;
  readonly uploadedAt: Date;
  readonly capturedAt: Date | null;
}

/** What hangs on the given things, oldest first, in one query. Owners get what was shared with them. */
export async function attachmentsOf(
  prisma: Pick<PrismaClient, 'attachmentLink'>,
  projectId: string,
  role: Role,
  subject: AttachmentSubject,
  subjectIds: readonly string[],
): Promise<AttachmentView[]> {
  if (subjectIds.length === 0) return [];
  const links = await prisma.attachmentLink.findMany({
    where: {
      projectId,
      subject,
      subjectId: { in: [...subjectIds] },
      ...(role === 'owner' ? { attachment: { sharedWithOwner: true } } : {}),
    },
    include: { attachment: true },
    orderBy: { attachment: { uploadedAt: 'asc' } },
  });
  return links.map(viewOf);
}

export interface GalleryPage {
  readonly files: readonly AttachmentView[];
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

const PAGE = 24;

/**
 * What hangs on one thing, oldest first, a page at a time, in one query. Owners get what was shared with them.
 *
 * @throws NotFound for a cursor that this program did not write.
 */
export async function galleryOf(
  prisma: Pick<PrismaClient, 'attachmentLink'>,
  viewer: { readonly projectId: string; readonly role: Role },
  subject: AttachmentSubject,
  subjectId: string,
  after: string | undefined,
): Promise<GalleryPage> {
  const cursor = after === undefined ? null : readTimeCursor(after);
  const links = await prisma.attachmentLink.findMany({
    where: {
      projectId: viewer.projectId,
      subject,
      subjectId,
      attachment: {
        ...(viewer.role === 'owner' ? { sharedWithOwner: true } : {}),
        ...(cursor === null
          ? {}
          : { OR: [{ uploadedAt: { gt: cursor.at } }, { uploadedAt: cursor.at, id: { gt: cursor.id } }] }),
      },
    },
    include: { attachment: true },
    orderBy: [{ attachment: { uploadedAt: 'asc' } }, { attachmentId: 'asc' }],
    take: PAGE + 1,
  });
  const files = links.slice(0, PAGE).map(viewOf);
  const last = files.at(-1);
  return {
    files,
    next: links.length > PAGE && last ? writeTimeCursor(last.uploadedAt, last.attachmentId) : null,
  };
}

/** What the contractor showed the owner: of the house, of this opening and of its items, oldest first. */
export async function attachmentsShared(
  prisma: Pick<PrismaClient, 'attachmentLink' | 'item' | 'version'>,
  projectId: string,
  openingId: string,
): Promise<AttachmentView[]> {
  const items = await prisma.item.findMany({
    where: { projectId, openingId },
    select: { id: true, versions: { select: { id: true } } },
  });
  const subjectIds = [
    projectId,
    openingId,
    ...items.flatMap(({ id, versions }) => [id, ...versions.map((one) => one.id)]),
  ];
  const links = await prisma.attachmentLink.findMany({
    where: { projectId, subjectId: { in: subjectIds }, attachment: { sharedWithOwner: true } },
    include: { attachment: true },
    orderBy: { attachment: { uploadedAt: 'asc' } },
  });
  return links.map(viewOf);
}

function viewOf({
  subjectId,
  part,
  attachment,
}: AttachmentLink & { attachment: Attachment }): AttachmentView {
  return {
    attachmentId: attachment.id,
    subjectId,
    part,
    originalName: attachment.originalName,
    caption: attachment.caption,
    mediaType: attachment.mediaType,
    isPicture: isPicture(attachment.mediaType),
    bytes: Number(attachment.bytes),
    sha256: attachment.sha256,
    sharedWithOwner: attachment.sharedWithOwner,
    uploadedAt: attachment.uploadedAt,
    capturedAt: attachment.capturedAt,
  };
}

/** The list above by what each hangs on. */
export function bySubject(
  list: readonly AttachmentView[],
): Readonly<Record<string, readonly AttachmentView[]>> {
  const groups: Record<string, AttachmentView[]> = {};
  for (const one of list) (groups[one.subjectId] ??= []).push(one);
  return groups;
}

/**
 * Files that belong to single observations, under what each is called now; what a later survey dropped comes last,
 * under the name it had.
 */
export function filesByObservation(
  observations: readonly { readonly id: string; readonly label: string }[],
  list: readonly AttachmentView[],
): readonly {
  readonly label: string;
  readonly dropped: boolean;
  readonly files: readonly AttachmentView[];
}[] {
  const known = new Set(observations.map(({ id }) => id));
  const dropped = [...new Set(list.map(({ part }) => part))].filter(
    (part) => part !== '' && !known.has(part),
  );
  return [
    ...observations.map(({ id, label }) => ({ id, label, dropped: false })),
    ...dropped.map((id) => ({ id, label: id, dropped: true })),
  ].flatMap(({ id, label, dropped: gone }) => {
    const files = list.filter(({ part }) => part === id);
    return files.length === 0 ? [] : [{ label, dropped: gone, files }];
  });
}
