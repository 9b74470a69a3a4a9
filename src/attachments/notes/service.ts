import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Conflict, Invalid, NotFound } from '../../problems.ts';
import { canonicalJson } from '../../record/canonical.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import type { Note } from './note.ts';

/**
 * Keeps a note over a file, or its next state. The file is never touched, and no state is ever changed: what is taken
 * off stays in the record.
 *
 * @throws Conflict where somebody else changed the note since `onNumber`.
 */
export async function saveNote(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly attachmentId: string;
    /** Null for a new note. */
    readonly noteId: string | null;
    /** The state that the person was looking at; 0 for a new note. */
    readonly onNumber: number;
    readonly note: Note;
    readonly itemId: string | null;
    readonly removed: boolean;
  },
): Promise<{ noteId: string; number: number }> {
  return useCase(deps, actor, 'note.save', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    const { attachmentId, itemId, removed, note } = input;
    const attachment = await tx.attachment.findFirst({ where: { id: attachmentId, projectId } });
    if (attachment === null) throw new NotFound('That file');
    if (note.page > (attachment.pageCount ?? 1)) throw new Invalid({ page: 'The drawing has no such page.' });
    if (itemId !== null && (await tx.item.findFirst({ where: { id: itemId, projectId } })) === null) {
      throw new Invalid({ itemId: 'Choose an item of this project.' });
    }
    const noteId = input.noteId ?? randomUUID();
    const newest = await tx.sheetNote.findFirst({
      where: { noteId, attachmentId, projectId },
      orderBy: { number: 'desc' },
    });
    if (input.noteId !== null && newest === null) throw new NotFound('That note');
    if ((newest?.number ?? 0) !== input.onNumber) {
      throw new Conflict(
        'Somebody else changed this note meanwhile. Look at it again, then change it.',
        null,
      );
    }
    const number = input.onNumber + 1;
    const content = canonicalJson({ ...note, removed });
    const sheetNoteId = randomUUID();
    await tx.sheetNote.create({
      data: { id: sheetNoteId, projectId, attachmentId, noteId, number, content, itemId, byId: personId, at },
    });
    await append('note.saved', { sheetNoteId, noteId, attachmentId, number, content, itemId });
    return { noteId, number };
  });
}
