import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { receiveFile } from '../../attachments/receive.ts';
import { isPicture } from '../../attachments/media-types.ts';
import { createPartialFiles, TooMuchSent } from '../../attachments/resumable/partial-files.ts';
import { idOr404 } from '../../people/routes.ts';
import { Refused, StorageFull, StorageUnavailable } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { findOwnPhoto } from './deliver.ts';
import { keepPhonePhoto } from './photos.ts';

interface PhotoPath {
  Params: { photoId: string };
}
type Photo = Awaited<ReturnType<typeof findOwnPhoto>>;

/**
 * Photos of findings that a phone kept: announced with their finding, sent in pieces that go on where the connection
 * broke, kept whole or not at all. The photo's id is its upload's id. Answers are JSON.
 */
export async function phonePhotoRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs, config } = deps;
  const partial = createPartialFiles(config.dataFolder);
  const busy = new Set<string>();

  // Bytes are handed on as they come, in this scope alone.
  app.addContentTypeParser('application/octet-stream', (_request, payload, done) => {
    done(null, payload);
  });

  async function state(photo: Photo): Promise<{ offset: number; attachmentId: string | null }> {
    const attachmentId = photo.arrival?.attachmentId ?? null;
    return {
      offset: attachmentId === null ? await partial.size(photo.id) : Number(photo.bytes),
      attachmentId,
    };
  }

  app.get<PhotoPath>(
    '/projects/:projectId/phone-photos/:photoId',
    { config: { access: 'finding.record' } },
    async (request, reply) => {
      const photo = await findOwnPhoto(prisma, actorOf(request), idOr404(request.params.photoId));
      return reply.header('cache-control', 'no-store').send(await state(photo));
    },
  );

  app.post<PhotoPath>(
    '/projects/:projectId/phone-photos/:photoId/pieces',
    { config: { access: 'finding.record' }, bodyLimit: config.uploadLimitBytes },
    async (request, reply) => {
      const actor = actorOf(request);
      const photo = await findOwnPhoto(prisma, actor, idOr404(request.params.photoId));
      const { body } = request;
      if (!(body instanceof Readable))
        return reply.status(415).send({ sentence: 'Send the bytes as application/octet-stream.' });
      if (busy.has(photo.id)) return reply.status(409).send(await state(photo));
      busy.add(photo.id);
      try {
        const now = await state(photo);
        if (now.attachmentId !== null) return await reply.send(now);
        if (request.headers['upload-offset'] !== String(now.offset)) return await reply.status(409).send(now);
        const total = Number(photo.bytes);
        if (now.offset < total) await partial.append(photo.id, body as AsyncIterable<Buffer>, total);
        const offset = await partial.size(photo.id);
        if (offset < total) return await reply.send({ offset, attachmentId: null });
        return await reply.status(201).send({ offset, attachmentId: await finish(actor, photo) });
      } catch (error) {
        return await answerProblem(reply, photo.id, error);
      } finally {
        busy.delete(photo.id);
      }
    },
  );

  async function finish(actor: Actor, photo: Photo): Promise<string> {
    const received = await receiveFile(blobs, partial.read(photo.id), {
      limitBytes: config.uploadLimitBytes,
      wasCutShort: () => false,
    });
    try {
      if (!isPicture(received.mediaType))
        throw new Refused('A finding takes photos: JPEG, HEIC, PNG or WebP.');
      await received.received.commit();
      const file = { ...received, originalName: photo.originalName };
      const { attachmentId } = await keepPhonePhoto(deps, actor, { photoId: photo.id, file });
      await partial.remove(photo.id);
      return attachmentId;
    } finally {
      await received.received.discard();
    }
  }

  async function answerProblem(reply: FastifyReply, photoId: string, error: unknown): Promise<unknown> {
    // No room or no answer may pass: the bytes that came stay, and the phone goes on from there.
    if (error instanceof StorageFull) return reply.status(507).send({ sentence: error.message });
    if (error instanceof StorageUnavailable) return reply.status(503).send({ sentence: error.message });
    const refused = error instanceof TooMuchSent ? new Refused('More came than was announced.') : error;
    if (!(refused instanceof Refused)) throw refused;
    await partial.remove(photoId);
    return reply.status(422).send({ sentence: refused.message });
  }
}
