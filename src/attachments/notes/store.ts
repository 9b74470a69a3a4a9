import { z } from 'zod';
import type { PrismaClient } from '../../database/generated/client.ts';
import { noteSchema, type Note } from './note.ts';
import { namesOfPeople } from '../../people/names.ts';

export interface NoteView {
  readonly noteId: string;
  /** In the order in which the notes of a file were begun; what stands beside it on the sheet. */
  readonly ordinal: number;
  readonly number: number;
  readonly note: Note;
  readonly removed: boolean;
  readonly item: { readonly itemId: string; readonly title: string } | null;
  readonly byName: string;
  readonly at: Date;
}

/** The states of the notes on a file: the newest of each, and on request all that came before. */
export async function notesOf(
  prisma: Pick<PrismaClient, 'sheetNote' | 'item' | 'person'>,
  projectId: string,
  attachmentId: string,
): Promise<{ readonly notes: readonly NoteView[]; readonly earlier: readonly NoteView[] }> {
  const rows = await prisma.sheetNote.findMany({
    where: { projectId, attachmentId },
    orderBy: [{ at: 'asc' }, { number: 'asc' }],
  });
  const itemIds = rows.flatMap(({ itemId }) => (itemId === null ? [] : [itemId]));
  const [items, names] = await Promise.all([
    prisma.item.findMany({ where: { projectId, id: { in: itemIds } }, select: { id: true, title: true } }),
    namesOfPeople(
      prisma,
      rows.map((row) => row.byId),
    ),
  ]);
  const titles = new Map(items.map((item) => [item.id, item.title]));
  const ordinals = new Map<string, number>();
  const newest = new Map<string, NoteView>();
  const earlier: NoteView[] = [];
  for (const row of rows) {
    const content: unknown = JSON.parse(row.content);
    const ordinal = ordinals.get(row.noteId) ?? ordinals.size + 1;
    ordinals.set(row.noteId, ordinal);
    const before = newest.get(row.noteId);
    if (before !== undefined) earlier.push(before);
    newest.set(row.noteId, {
      noteId: row.noteId,
      ordinal,
      number: row.number,
      note: noteSchema.parse(content),
      removed: z.object({ removed: z.boolean() }).parse(content).removed,
      item: row.itemId === null ? null : { itemId: row.itemId, title: titles.get(row.itemId) ?? '' },
      byName: names.get(row.byId) ?? '',
      at: row.at,
    });
  }
  const all = [...newest.values()];
  return {
    notes: all.filter((one) => !one.removed),
    earlier: [...earlier, ...all.filter((one) => one.removed)],
  };
}
