import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Attachment } from '../database/generated/client.ts';
import { HashFailure, NotFound } from '../problems.ts';
import type { Deps } from '../web/deps.ts';
import { actorOf } from '../web/plugins/access.ts';
import { hashFailurePicture } from './failure-picture.ts';
import { findAttachment } from './find.ts';
import { createIntegrityGuard } from './integrity.ts';
import { acceptedTypes, isPicture, type AcceptedType } from './media-types.ts';
import { makePreview, type PreviewWidth } from './pictures.ts';
import { parseRange } from './range.ts';
import { createTurns } from './turns.ts';

interface FilePath {
  Params: { attachmentId: string };
}

/**
 * Files and previews. Membership is asked on every request; the bytes are held against their hash before the first
 * of them leaves. A file is never shown inside a page of ours: it is downloaded, or a preview is drawn from it.
 */
export async function attachmentServingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs } = deps;
  const guard = createIntegrityGuard(blobs, deps.clock);
  const decode = createTurns(2);

  app.get<FilePath>(
    '/projects/:projectId/attachments/:attachmentId',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const row = await findAttachment(prisma, actor, request.params.attachmentId);
      // What the camera wrote into a photo (where it was taken, with what) is not the owner's to get.
      if (actor.role === 'owner' && isPicture(row.mediaType)) {
        return sendPicture(request, reply, row, 2560, 'attachment');
      }
      return sendOriginal(request, reply, row);
    },
  );

  app.get<{ Params: { attachmentId: string; width: string } }>(
    '/projects/:projectId/attachments/:attachmentId/preview/:width',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const row = await findAttachment(prisma, actorOf(request), request.params.attachmentId);
      if (!isPicture(row.mediaType)) throw new NotFound('That preview');
      return sendPicture(request, reply, row, request.params.width === '1280' ? 1280 : 320, 'inline');
    },
  );

  async function sendOriginal(request: FastifyRequest, reply: FastifyReply, row: Attachment) {
    const etag = `"${row.sha256}"`;
    const total = Number(row.bytes);
    const { extension } = acceptedTypes[row.mediaType as AcceptedType];
    if (request.headers['if-none-match'] === etag) return notModified(reply, etag);
    const asked = request.headers['if-range'];
    const range = asked === undefined || asked === etag ? parseRange(request.headers.range, total) : null;
    await guard.check(row.sha256, { lately: range !== null });
    reply
      .header('etag', etag)
      .header('cache-control', 'private, no-cache')
      .header('accept-ranges', 'bytes')
      .header('content-security-policy', "default-src 'none'; sandbox");
    if (range === 'unsatisfiable') {
      return reply.status(416).header('content-range', `bytes */${total}`).send();
    }
    reply
      .type(row.mediaType)
      .header('content-disposition', `attachment; filename="${row.sha256.slice(0, 12)}.${extension}"`);
    if (range === null) return reply.header('content-length', total).send(await blobs.open(row.sha256));
    return reply
      .status(206)
      .header('content-range', `bytes ${range.start}-${range.end}/${total}`)
      .header('content-length', range.end - range.start + 1)
      .send(await blobs.open(row.sha256, range));
  }

  async function sendPicture(
    request: FastifyRequest,
    reply: FastifyReply,
    row: Attachment,
    width: PreviewWidth,
    disposition: 'inline' | 'attachment',
  ) {
    const etag = `"${row.sha256}-${width}"`;
    if (request.headers['if-none-match'] === etag) return notModified(reply, etag);
    try {
      await guard.check(row.sha256);
    } catch (error) {
      if (!(error instanceof HashFailure)) throw error;
      request.log.error({ err: error, attachmentId: row.id }, 'hash failure');
      return reply
        .status(500)
        .header('cache-control', 'no-store')
        .type('image/svg+xml')
        .send(hashFailurePicture);
    }
    const picture = await decode(async () => makePreview(await blobs.open(row.sha256), width));
    return reply
      .header('etag', etag)
      .header('cache-control', 'private, no-cache')
      .header('content-disposition', `${disposition}; filename="${row.sha256.slice(0, 12)}.webp"`)
      .type('image/webp')
      .send(picture);
  }
}

async function notModified(reply: FastifyReply, etag: string) {
  return reply.status(304).header('etag', etag).header('cache-control', 'private, no-cache').send();
}
