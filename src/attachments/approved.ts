import { z } from 'zod';
import type { PrismaClient } from '../database/generated/client.ts';
import { readTogether, type ProjectViewer } from '../record/read-together.ts';

export interface ApprovedDrawing {
  readonly attachmentId: string;
  readonly name: string;
  readonly revision: string;
  readonly sha256: string;
}

type Reader = Pick<PrismaClient, 'approvedSet' | 'attachment'>;

const drawingContent = z.object({ name: z.string(), revision: z.string(), sha256: z.string() });

/**
 * The drawings in the newest set of an opening (of each opening, without one), as files. A drawing whose approval was
 * taken back since is not among them.
 */
export async function approvedDrawings(
  prisma: Reader,
  viewer: ProjectViewer,
  openingId?: string,
): Promise<readonly ApprovedDrawing[]> {
  return readTogether(viewer, ['approved drawings', openingId ?? null], () =>
    readDrawings(prisma, viewer.projectId, openingId),
  );
}

async function readDrawings(
  prisma: Reader,
  projectId: string,
  openingId?: string,
): Promise<ApprovedDrawing[]> {
  const sets = await prisma.approvedSet.findMany({
    where: { projectId, ...(openingId === undefined ? {} : { openingId }) },
    orderBy: { number: 'desc' },
    distinct: ['openingId'],
    select: {
      entries: {
        where: { item: { kind: 'drawing' } },
        select: {
          version: {
            select: {
              content: true,
              marks: { orderBy: { number: 'desc' }, take: 1, select: { word: true } },
            },
          },
        },
      },
    },
  });
  const drawings = sets.flatMap(({ entries }) =>
    entries.flatMap(({ version: { content, marks } }) => {
      const word = marks[0]?.word;
      const drawing = drawingContent.safeParse(JSON.parse(content));
      return drawing.success && (word === 'approved' || word === 'revised') ? [drawing.data] : [];
    }),
  );
  const files = await prisma.attachment.findMany({
    where: { projectId, sha256: { in: drawings.map((drawing) => drawing.sha256) } },
    orderBy: { uploadedAt: 'asc' },
    select: { id: true, sha256: true },
  });
  return drawings.flatMap((drawing) => {
    const file = files.find(({ sha256 }) => sha256 === drawing.sha256);
    return file === undefined ? [] : [{ ...drawing, attachmentId: file.id }];
  });
}
