import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../actor.ts';
import type { Attachment } from '../database/generated/client.ts';
import { idOr404 } from '../people/routes.ts';
import { roleMay } from '../people/permissions.ts';
import { Conflict, Invalid } from '../problems.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import { actorOf } from '../web/plugins/access.ts';
import { findAttachment } from './find.ts';
import { isPicture } from './media-types.ts';
import { noteSchema } from './notes/note.ts';
import { saveNote } from './notes/service.ts';
import { notesOf } from './notes/store.ts';
import { maySeeCaptureTime, maySeePosition } from './originals.ts';
import { supersededBy } from './superseded.ts';

interface SheetPath {
  Params: { attachmentId: string };
  Querystring: { page?: string; note?: string; grid?: string };
}

interface NoteForm {
  readonly values: Readonly<Record<string, string>>;
  readonly errors: Readonly<Record<string, string>>;
}

/** One file on a page of its own: large, page by page, with what was noted on it. */
export async function sheetRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function sheet(
    reply: FastifyReply,
    actor: Actor,
    row: Attachment,
    shown: { page: number; noteId?: string | undefined; grid: boolean; form?: NoteForm },
  ) {
    const { projectId, role } = actor;
    const mayNote = roleMay(role, 'note.save');
    const [superseded, { notes, earlier }, items] = await Promise.all([
      supersededBy(prisma, projectId, row.sha256),
      // Notes are the trades' words among themselves.
      role === 'owner' ? { notes: [], earlier: [] } : notesOf(prisma, projectId, row.id),
      mayNote
        ? prisma.item.findMany({
            where: { projectId },
            select: { id: true, title: true },
            orderBy: { title: 'asc' },
          })
        : [],
    ]);
    const edited = notes.find((one) => one.noteId === shown.noteId);
    const form =
      shown.form ??
      (edited === undefined
        ? { values: { shape: 'pin' }, errors: {} }
        : { values: { ...edited.note, itemId: edited.item?.itemId ?? '' }, errors: {} });
    return reply.page('attachments/sheet.njk', {
      file: row,
      isPicture: isPicture(row.mediaType),
      page: shown.page,
      pages: row.pageCount ?? 1,
      position:
        maySeePosition(actor, row) && row.latitude !== null && row.longitude !== null
          ? `${row.latitude.toFixed(5)}, ${row.longitude.toFixed(5)}`
          : null,
      capturedAt: maySeeCaptureTime(actor, row) ? row.capturedAt : null,
      superseded,
      notes: notes.filter((one) => one.note.page === shown.page),
      elsewhere: notes.filter((one) => one.note.page !== shown.page),
      earlier,
      edited,
      itemChoices: [
        { value: '', text: 'None' },
        ...items.map(({ id, title }) => ({ value: id, text: title })),
      ],
      form,
      grid: shown.grid,
      mayNote,
    });
  }

  app.get<SheetPath>(
    '/projects/:projectId/attachments/:attachmentId/sheet',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const row = await findAttachment(prisma, actor, request.params.attachmentId);
      const { page, note, grid } = request.query;
      const number = page !== undefined && /^[1-9]\d{0,4}$/.test(page) ? Number(page) : 1;
      const last = row.pageCount ?? 1;
      return sheet(reply, actor, row, {
        page: Math.min(number, last),
        noteId: note,
        grid: grid === 'yes',
      });
    },
  );

  app.post<{ Params: { attachmentId: string } }>(
    '/projects/:projectId/attachments/:attachmentId/notes',
    {
      config: {
        access: 'note.save',
        keepForm: ({ projectId = '', attachmentId = '' }, { page = '1', noteId = '' }) =>
          `/projects/${projectId}/attachments/${attachmentId}/sheet?${new URLSearchParams({ page, note: noteId, grid: 'yes' }).toString()}`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const row = await findAttachment(prisma, actor, request.params.attachmentId);
      const typed = typedFrom(request.body);
      const page = z.coerce.number().int().min(1).max(99_999).catch(1).parse(typed.page);
      const noteId = typed.noteId === undefined || typed.noteId === '' ? null : idOr404(typed.noteId);
      const refuse = (errors: Readonly<Record<string, string>>, status = 422) =>
        sheet(reply.status(status), actor, row, {
          page,
          noteId: noteId ?? undefined,
          grid: true,
          form: { values: typed, errors },
        });
      // An empty box is no zero.
      const given = Object.fromEntries(Object.entries(typed).filter(([, text]) => text.trim() !== ''));
      const parsed = noteSchema.safeParse({ words: '', ...given });
      if (!parsed.success) {
        return refuse(
          Object.fromEntries(parsed.error.issues.map((issue) => [issue.path.join('.'), issue.message])),
        );
      }
      try {
        const removed = typed.do === 'remove';
        await saveNote(deps, actor, {
          attachmentId: row.id,
          noteId,
          onNumber: z.coerce.number().int().min(0).catch(0).parse(typed.onNumber),
          note: parsed.data,
          itemId: given.itemId === undefined ? null : idOr404(given.itemId),
          removed,
        });
        reply.flash(removed ? 'The note is taken off; it stays in the history.' : 'The note is kept.');
        return await reply.redirect(
          `/projects/${actor.projectId}/attachments/${row.id}/sheet?page=${parsed.data.page}`,
          303,
        );
      } catch (error) {
        if (error instanceof Invalid) return refuse(error.fields);
        if (error instanceof Conflict) return refuse({ words: error.message }, 409);
        throw error;
      }
    },
  );
}
