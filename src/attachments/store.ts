import {
  Prisma,
  type Attachment,
  type AttachmentLink,
  type AttachmentSubject,
  type PrismaClient,
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
  prisma: Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  role: Role,
  subject: AttachmentSubject,
  subjectIds: readonly string[],
): Promise<AttachmentView[]> {
  if (subjectIds.length === 0) return [];
  // An array, and not a list of values: one text for any number of ids, which PostgreSQL then plans once.
  const rows = await prisma.$queryRaw<Omit<AttachmentView, 'isPicture'>[]>`
    SELECT l.subject_id AS "subjectId", l.part, a.id AS "attachmentId", a.original_name AS "originalName",
           a.caption, a.media_type AS "mediaType", a.bytes::double precision AS bytes, a.sha256,
           a.shared_with_owner AS "sharedWithOwner", a.uploaded_at AS "uploadedAt", a.captured_at AS "capturedAt"
    FROM attachment_link l JOIN attachment a ON a.id = l.attachment_id
    WHERE l.project_id = ${projectId}::uuid AND l.subject = ${subject}::attachment_subject
      AND l.subject_id = ANY(${[...subjectIds]}::uuid[])
      ${role === 'owner' ? Prisma.sql`AND a.shared_with_owner` : Prisma.empty}
    ORDER BY a.uploaded_at, a.id`;
  return rows.map((row) => ({ ...row, isPicture: isPicture(row.mediaType) }));
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

/** Rows `a` of attachments that the contractor showed the owner: of the house, of this opening or of its items. */
const shownToOwner = (projectId: string, openingId: string) => Prisma.sql`
  a.project_id = ${projectId}::uuid AND a.shared_with_owner AND EXISTS (
    SELECT 1 FROM attachment_link l
    LEFT JOIN version ON l.subject = 'version' AND version.id = l.subject_id
    LEFT JOIN item ON item.id = CASE WHEN l.subject = 'item' THEN l.subject_id ELSE version.item_id END
    WHERE l.attachment_id = a.id
      AND (l.subject_id IN (${projectId}::uuid, ${openingId}::uuid) OR item.opening_id = ${openingId}::uuid)
  )`;

/**
 * What the contractor showed the owner of an opening, oldest first, a page at a time, in two queries.
 *
 * @throws NotFound for a cursor that this program did not write.
 */
export async function attachmentsShared(
  prisma: Pick<PrismaClient, '$queryRaw' | 'attachment'>,
  projectId: string,
  openingId: string,
  after?: string,
): Promise<GalleryPage> {
  const cursor = after === undefined ? null : readTimeCursor(after);
  const beyond =
    cursor === null
      ? Prisma.empty
      : Prisma.sql`AND (a.uploaded_at, a.id) > (${cursor.at}::timestamptz, ${cursor.id}::uuid)`;
  const found = await prisma.$queryRaw<{ id: string }[]>`
    SELECT a.id FROM attachment a WHERE ${shownToOwner(projectId, openingId)} ${beyond}
    ORDER BY a.uploaded_at, a.id LIMIT ${PAGE + 1}`;
  const rows = await prisma.attachment.findMany({
    where: { projectId, id: { in: found.slice(0, PAGE).map(({ id }) => id) } },
    orderBy: [{ uploadedAt: 'asc' }, { id: 'asc' }],
  });
  const files = rows.map((attachment) => viewOf({ subjectId: openingId, part: '', attachment }));
  const last = files.at(-1);
  return {
    files,
    next: found.length > PAGE && last ? writeTimeCursor(last.uploadedAt, last.attachmentId) : null,
  };
}

/** Is this one of what `attachmentsShared` lists? */
export async function isShownToOwner(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  openingId: string,
  attachmentId: string,
): Promise<boolean> {
  const found = await prisma.$queryRaw<{ id: string }[]>`
    SELECT a.id FROM attachment a WHERE a.id = ${attachmentId}::uuid AND ${shownToOwner(projectId, openingId)}`;
  return found.length > 0;
}

function viewOf({
  subjectId,
  part,
  attachment,
}: Pick<AttachmentLink, 'subjectId' | 'part'> & { readonly attachment: Attachment }): AttachmentView {
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
