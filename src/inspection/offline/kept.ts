import type { Actor } from '../../actor.ts';
import { isPicture } from '../../attachments/media-types.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { drawingSchema } from '../../record/kinds/drawing/kind.ts';

/** Pages of one drawing that a phone keeps; a roll of plans has a few dozen at most. */
const PAGES_KEPT = 30;

export interface KeptPicture {
  /** Where it is fetched from, and under which the phone keeps it. */
  readonly url: string;
  readonly words: string;
}

export interface KeptDrawing {
  readonly title: string;
  readonly revision: string;
  readonly pages: readonly KeptPicture[];
  /** The file, for a place on it; null where it is not there any more. */
  readonly sheetId: string | null;
  /** Its first page with the squares that a place is told by. */
  readonly grid: KeptPicture | null;
  /** Pages that are not kept, since there are too many or they could not be counted. */
  readonly pagesLeftOut: number;
}

/** The approved drawings of a set, page by page, as previews. */
export async function drawingsOfSet(
  prisma: Pick<PrismaClient, 'setEntry' | 'attachment'>,
  actor: Actor,
  setId: string,
): Promise<KeptDrawing[]> {
  const entries = await prisma.setEntry.findMany({
    where: { setId, item: { kind: 'drawing' } },
    include: { item: { select: { title: true } }, version: { select: { content: true } } },
  });
  const drawings = entries.flatMap(({ item, version }) => {
    const parsed = drawingSchema.safeParse(JSON.parse(version.content));
    return parsed.success ? [{ title: item.title, ...parsed.data }] : [];
  });
  const files = await prisma.attachment.findMany({
    where: { projectId: actor.projectId, sha256: { in: drawings.map((drawing) => drawing.sha256) } },
    orderBy: { uploadedAt: 'asc' },
  });
  return drawings.map(({ title, name, revision, sha256 }) => {
    const file = files.find((one) => one.sha256 === sha256);
    const count = file === undefined ? 0 : isPicture(file.mediaType) ? 1 : (file.pageCount ?? 1);
    const pages = Array.from({ length: Math.min(count, PAGES_KEPT) }, (_, index) => ({
      url: `/projects/${actor.projectId}/attachments/${file?.id ?? ''}/preview/1280?page=${index + 1}`,
      words: `${name}, revision ${revision}, page ${index + 1}`,
    }));
    const sheetId = file?.id ?? null;
    const grid =
      count === 0 || sheetId === null
        ? null
        : {
            url: `/projects/${actor.projectId}/attachments/${sheetId}/preview/1280?grid=squares`,
            words: `${name} with its squares`,
          };
    return { title, revision, pages, sheetId, grid, pagesLeftOut: count - pages.length };
  });
}
