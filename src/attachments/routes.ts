import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { idOr404 } from '../people/routes.ts';
import { Invalid, NotFound } from '../problems.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import { actorOf } from '../web/plugins/access.ts';
import { acceptedTypes, isPicture, type AcceptedType } from './media-types.ts';
import { readUpload } from './multipart.ts';
import { makePreview } from './pictures.ts';
import { parseRange } from './range.ts';
import { addAttachments, shareAttachment } from './service.ts';

const uploadSchema = z.object({
  subject: z.enum(['project', 'opening', 'item', 'version', 'question']),
  subjectId: z.uuid(),
  caption: z.string().trim().max(300, 'Use at most 300 characters.').default(''),
  back: z.string().default(''),
});

export async function attachmentRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs, config } = deps;

  app.post(
    '/projects/:projectId/attachments',
    { config: { access: 'attachment.add', csrfInStream: true }, bodyLimit: config.uploadLimitBytes * 21 },
    async (request, reply) => {
      const actor = actorOf(request);
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        const parsed = uploadSchema.safeParse(fields);
        if (!parsed.success) throw new NotFound();
        if (files.length === 0) throw new Invalid({ file: 'Choose a file first.' });
        const { subject, subjectId, caption, back } = parsed.data;
        await addAttachments(deps, actor, { files, caption, to: { subject, subjectId } });
        reply.flash(files.length === 1 ? 'The file is kept.' : `${files.length} files are kept.`);
        const own = back.startsWith(`/projects/${actor.projectId}/`) ? back : `/projects/${actor.projectId}`;
        return await reply.redirect(own, 303);
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );

  async function find(projectId: string, role: string, attachmentId: string) {
    const row = await prisma.attachment.findFirst({
      where: {
        id: idOr404(attachmentId),
        projectId,
        ...(role === 'owner' ? { sharedWithOwner: true } : {}),
      },
    });
    if (row === null) throw new NotFound('That file');
    return row;
  }

  app.get<{ Params: { attachmentId: string } }>(
    '/projects/:projectId/attachments/:attachmentId',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const { projectId, role } = actorOf(request);
      const row = await find(projectId, role, request.params.attachmentId);
      const etag = `"${row.sha256}"`;
      reply
        .header('etag', etag)
        .header('cache-control', 'private, no-cache')
        .header('accept-ranges', 'bytes');
      if (request.headers['if-none-match'] === etag) return reply.status(304).send();
      const { extension } = acceptedTypes[row.mediaType as AcceptedType];
      const total = Number(row.bytes);
      reply
        .type(row.mediaType)
        .header('content-disposition', `attachment; filename="${row.sha256.slice(0, 12)}.${extension}"`)
        .header('content-security-policy', "default-src 'none'; sandbox");
      const range = parseRange(request.headers.range, total);
      if (range === 'unsatisfiable') {
        return reply.status(416).header('content-range', `bytes */${total}`).send();
      }
      if (range !== null) {
        reply
          .status(206)
          .header('content-range', `bytes ${range.start}-${range.end}/${total}`)
          .header('content-length', range.end - range.start + 1);
        return reply.send(await blobs.open(row.sha256, range));
      }
      reply.header('content-length', total);
      return reply.send(await blobs.open(row.sha256));
    },
  );

  app.get<{ Params: { attachmentId: string; width: string } }>(
    '/projects/:projectId/attachments/:attachmentId/preview/:width',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const { projectId, role } = actorOf(request);
      const row = await find(projectId, role, request.params.attachmentId);
      const width = request.params.width === '1280' ? 1280 : 320;
      if (!isPicture(row.mediaType)) throw new NotFound('That preview');
      const etag = `"${row.sha256}-${width}"`;
      reply.header('etag', etag).header('cache-control', 'private, max-age=3600');
      if (request.headers['if-none-match'] === etag) return reply.status(304).send();
      return reply.type('image/webp').send(makePreview(await blobs.open(row.sha256), width));
    },
  );

  app.post<{ Params: { attachmentId: string } }>(
    '/projects/:projectId/attachments/:attachmentId/share',
    { config: { access: 'attachment.share' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const shared = typed.shared === 'yes';
      await shareAttachment(deps, actor, { attachmentId: idOr404(request.params.attachmentId), shared });
      reply.flash(shared ? 'The owner sees it now.' : 'The owner no longer sees it.');
      const back = typed.back ?? '';
      return reply.redirect(
        back.startsWith(`/projects/${actor.projectId}/`) ? back : `/projects/${actor.projectId}`,
        303,
      );
    },
  );
}
