import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import type { Upload } from '../../database/generated/client.ts';
import { idOr404 } from '../../people/routes.ts';
import { NotFound, Problem, Refused, StorageFull, StorageUnavailable } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { plainLine, shownName } from '../plain-words.ts';
import { receiveFile } from '../receive.ts';
import { formSubjects, observationName, withChosenSubject } from '../subjects.ts';
import { keepUpload } from './keep.ts';
import { createPartialFiles, TooMuchSent } from './partial-files.ts';

const UNFINISHED_AT_MOST = 40;

interface UploadPath {
  Params: { uploadId: string };
}

/**
 * Uploads in pieces, for the page's script: begin, add at an offset, ask how far it is, add from there. A file is kept
 * whole, as if sent at once, or not at all. Answers are JSON; refusals are `{ sentence }`.
 */
export async function resumableRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs, config } = deps;
  const partial = createPartialFiles(config.dataFolder);
  const busy = new Set<string>();

  // Bytes are handed on as they come, in this scope alone.
  app.addContentTypeParser('application/octet-stream', (_request, payload, done) => {
    done(null, payload);
  });

  const beginning = z.object({
    name: z.string().min(1).max(2000),
    bytes: z.coerce.number().int().min(1, 'The file is empty.').max(config.uploadLimitBytes),
    subject: z.enum(formSubjects),
    subjectId: z.uuid(),
    part: observationName,
    caption: plainLine.default(''),
    keepPosition: z.string().default(''),
  });

  app.post(
    '/projects/:projectId/uploads',
    { config: { access: 'attachment.add' } },
    async (request, reply) => {
      const { projectId, personId } = actorOf(request);
      const typed = withChosenSubject(typedFrom(request.body));
      const parsed = beginning.safeParse(typed);
      if (!parsed.success) {
        const tooLarge = Number(typed.bytes) > config.uploadLimitBytes;
        const limit = Math.floor(config.uploadLimitBytes / 1024 / 1024);
        const sentence = tooLarge
          ? `The file is larger than ${limit} MB, the most that is kept here.`
          : (parsed.error.issues[0]?.message ?? '');
        return reply.status(422).send({ sentence });
      }
      const { name, bytes, subject, subjectId, part, caption, keepPosition } = parsed.data;
      const unfinished = await prisma.upload.count({ where: { personId, attachmentId: null } });
      if (unfinished >= UNFINISHED_AT_MOST) {
        return reply
          .status(429)
          .send({ sentence: 'Too many uploads are under way. Finish some of them first.' });
      }
      const { id } = await prisma.upload.create({
        data: {
          projectId,
          personId,
          originalName: shownName(name),
          bytes: BigInt(bytes),
          subject,
          subjectId,
          part,
          caption,
          keepPosition: keepPosition === 'yes',
          createdAt: deps.clock(),
        },
        select: { id: true },
      });
      return reply.status(201).send({ uploadId: id, offset: 0 });
    },
  );

  async function find({ projectId, personId }: Actor, uploadId: string): Promise<Upload> {
    const upload = await prisma.upload.findFirst({ where: { id: idOr404(uploadId), projectId, personId } });
    if (upload === null) throw new NotFound('That upload');
    return upload;
  }

  async function state(upload: Upload): Promise<{ offset: number; attachmentId: string | null }> {
    const { attachmentId } = upload;
    const offset = attachmentId === null ? await partial.size(upload.id) : Number(upload.bytes);
    return { offset, attachmentId };
  }

  app.get<UploadPath>(
    '/projects/:projectId/uploads/:uploadId',
    { config: { access: 'attachment.add' } },
    async (request, reply) =>
      reply
        .header('cache-control', 'no-store')
        .send(await state(await find(actorOf(request), request.params.uploadId))),
  );

  app.post<UploadPath>(
    '/projects/:projectId/uploads/:uploadId/pieces',
    { config: { access: 'attachment.add' }, bodyLimit: config.uploadLimitBytes },
    async (request, reply) => {
      const actor = actorOf(request);
      const upload = await find(actor, request.params.uploadId);
      const { body } = request;
      if (!(body instanceof Readable)) {
        return reply.status(415).send({ sentence: 'Send the bytes as application/octet-stream.' });
      }
      if (busy.has(upload.id)) return reply.status(409).send(await state(upload));
      busy.add(upload.id);
      try {
        const now = await state(upload);
        if (now.attachmentId !== null) return await reply.send(now);
        if (request.headers['upload-offset'] !== String(now.offset)) return await reply.status(409).send(now);
        const total = Number(upload.bytes);
        if (now.offset < total) await partial.append(upload.id, body as AsyncIterable<Buffer>, total);
        const after = await state(upload);
        if (after.offset < total) return await reply.send(after);
        const attachmentId = await finish(actor, upload);
        // How many of this sending are kept by now; only for the sentence on the next page.
        const kept = z.coerce.number().int().min(1).max(1000).catch(1).parse(request.headers['upload-kept']);
        reply.flash(kept === 1 ? 'The file is kept.' : `${kept} files are kept.`);
        return await reply.status(201).send({ offset: total, attachmentId });
      } catch (error) {
        return await answerProblem(reply, upload, error);
      } finally {
        busy.delete(upload.id);
      }
    },
  );

  /** Takes the whole file through the same gate as one that was sent at once. */
  async function finish(actor: Actor, upload: Upload): Promise<string> {
    const received = await receiveFile(blobs, partial.read(upload.id), {
      limitBytes: config.uploadLimitBytes,
      wasCutShort: () => false,
    });
    try {
      await received.received.commit();
      const file = { ...received, originalName: upload.originalName };
      const attachmentId = await keepUpload(deps, actor, upload, file);
      await partial.remove(upload.id);
      return attachmentId;
    } finally {
      await received.received.discard();
    }
  }

  async function answerProblem(reply: FastifyReply, upload: Upload, error: unknown): Promise<unknown> {
    // No room or no answer may pass: the bytes that came stay, and the sender goes on from there.
    if (error instanceof StorageFull) return reply.status(507).send({ sentence: error.message });
    if (error instanceof StorageUnavailable) return reply.status(503).send({ sentence: error.message });
    const refused =
      error instanceof TooMuchSent
        ? new Refused('More came than was announced. Send the file again.')
        : error;
    if (!(refused instanceof Problem)) throw error;
    await partial.remove(upload.id);
    await prisma.upload.delete({ where: { id: upload.id } });
    return reply.status(422).send({ sentence: refused.message });
  }
}
