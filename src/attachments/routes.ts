import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { idOr404 } from '../people/routes.ts';
import { Invalid, NotFound } from '../problems.ts';
import type { Deps } from '../web/deps.ts';
import { typedFrom } from '../web/forms/read.ts';
import { actorOf } from '../web/plugins/access.ts';
import { readUpload } from './multipart.ts';
import { ownPath } from './own-path.ts';
import { plainLine } from './plain-words.ts';
import { resumableRoutes } from './resumable/routes.ts';
import { addAttachments, shareAttachment } from './service.ts';
import { attachmentServingRoutes } from './serving-routes.ts';
import { sheetRoutes } from './sheet-routes.ts';
import { formSubjects, observationName, withChosenSubject } from './subjects.ts';

const uploadSchema = z.object({
  subject: z.enum(formSubjects),
  subjectId: z.uuid(),
  part: observationName,
  caption: plainLine.default(''),
  back: z.string().default(''),
  keepPosition: z.literal('yes').optional(),
});

export async function attachmentRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { blobs, config } = deps;

  app.post(
    '/projects/:projectId/attachments',
    { config: { access: 'attachment.add', csrfInStream: true }, bodyLimit: config.uploadLimitBytes * 21 },
    async (request, reply) => {
      const actor = actorOf(request);
      const { fields, files } = await readUpload(app, request, reply, blobs, config.uploadLimitBytes);
      try {
        const parsed = uploadSchema.safeParse(withChosenSubject(fields));
        if (!parsed.success) {
          const caption = parsed.error.issues.find((issue) => issue.path[0] === 'caption');
          throw caption === undefined ? new NotFound() : new Invalid({ caption: caption.message });
        }
        if (files.length === 0) throw new Invalid({ file: 'Choose a file first.' });
        const { subject, subjectId, part, caption, back } = parsed.data;
        const keepPosition = parsed.data.keepPosition === 'yes';
        await addAttachments(deps, actor, {
          files,
          caption,
          to: { subject, subjectId, part },
          keepPosition,
        });
        reply.flash(files.length === 1 ? 'The file is kept.' : `${files.length} files are kept.`);
        return await reply.redirect(ownPath(actor.projectId, back), 303);
      } finally {
        await Promise.all(files.map((file) => file.received.discard()));
      }
    },
  );

  await app.register(attachmentServingRoutes, deps);
  await app.register(sheetRoutes, deps);
  await app.register(resumableRoutes, deps);

  app.post<{ Params: { attachmentId: string } }>(
    '/projects/:projectId/attachments/:attachmentId/share',
    { config: { access: 'attachment.share' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const shared = typed.shared === 'yes';
      await shareAttachment(deps, actor, { attachmentId: idOr404(request.params.attachmentId), shared });
      reply.flash(shared ? 'The owner sees it now.' : 'The owner no longer sees it.');
      return reply.redirect(ownPath(actor.projectId, typed.back), 303);
    },
  );
}
