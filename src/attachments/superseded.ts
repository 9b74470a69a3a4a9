import { z } from 'zod';
import type { PrismaClient } from '../database/generated/client.ts';

const drawingContent = z.object({ sha256: z.string(), revision: z.string() });

export interface Superseded {
  readonly itemId: string;
  readonly title: string;
  /** The revision that stands in its place. */
  readonly revision: string;
}

/**
 * Is this file the drawing of an earlier version? A file that any drawing's newest version still names is not
 * superseded, whatever else it was.
 */
export async function supersededBy(
  prisma: Pick<PrismaClient, 'item'>,
  projectId: string,
  sha256: string,
): Promise<Superseded | null> {
  const drawings = await prisma.item.findMany({
    where: { projectId, kind: 'drawing', versions: { some: { content: { contains: sha256 } } } },
    select: {
      id: true,
      title: true,
      versions: { orderBy: { number: 'desc' }, take: 1, select: { content: true } },
    },
  });
  let found: Superseded | null = null;
  for (const { id, title, versions } of drawings) {
    const newest = drawingContent.safeParse(JSON.parse(versions[0]?.content ?? 'null'));
    if (!newest.success) continue;
    if (newest.data.sha256 === sha256) return null;
    found ??= { itemId: id, title, revision: newest.data.revision };
  }
  return found;
}
