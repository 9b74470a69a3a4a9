import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Attachment } from '../database/generated/client.ts';
import { HashFailure } from '../problems.ts';
import { sha256Hex } from '../record/canonical.ts';
import type { Deps } from '../web/deps.ts';
import { actorOf } from '../web/plugins/access.ts';
import { hashFailurePicture, noPreviewPicture } from './failure-picture.ts';
import { findAttachment } from './find.ts';
import { createIntegrityGuard } from './integrity.ts';
import { acceptedTypes, isPicture, type AcceptedType } from './media-types.ts';
import type { Drawn, Grid } from './notes/overlay.ts';
import { markIn } from './notes/squares.ts';
import { notesOf } from './notes/store.ts';
import { mayHaveOriginal } from './originals.ts';
import { HeicUnreadable } from './heic/reader.ts';
import { PdfUnreadable } from './pdf/reader.ts';
import type { PreviewWidth } from './pictures.ts';
import { createPreviews } from './previews.ts';
import { parseRange } from './range.ts';
import { supersededBy } from './superseded.ts';

interface FilePath {
  Params: { attachmentId: string };
}

interface PreviewPath {
  Params: { attachmentId: string; width: string };
  Querystring: { page?: string; notes?: string; grid?: string; place?: string };
}

/**
 * Files and previews. Membership is asked on every request; the bytes are held against their hash before the first
 * of them leaves. A file is never shown inside a page of ours: it is downloaded, or a preview is drawn from it.
 */
export async function attachmentServingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs } = deps;
  const guard = createIntegrityGuard(blobs, deps.clock);
  const previews = createPreviews(blobs, deps.config.dataFolder);

  app.get<FilePath>(
    '/projects/:projectId/attachments/:attachmentId',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const row = await findAttachment(prisma, actor, request.params.attachmentId);
      if (isPicture(row.mediaType)) await guard.check(row.sha256, { lately: true });
      if (!(await mayHaveOriginal(actor, row, blobs))) {
        return sendPicture(request, reply, row, {
          width: 2560,
          page: 1,
          disposition: 'attachment',
          notes: [],
          grid: null,
        });
      }
      return sendOriginal(request, reply, row);
    },
  );

  app.get<PreviewPath>(
    '/projects/:projectId/attachments/:attachmentId/preview/:width',
    { config: { access: 'attachment.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const row = await findAttachment(prisma, actor, request.params.attachmentId);
      const width = request.params.width === '1280' ? 1280 : 320;
      const { page: asked, notes: withNotes, grid, place = '' } = request.query;
      const page = pageNumber(asked);
      const all =
        withNotes === 'yes' && actor.role !== 'owner'
          ? (await notesOf(prisma, actor.projectId, row.id)).notes
          : [];
      return sendPicture(request, reply, row, {
        width,
        page,
        disposition: 'inline',
        notes: [...all.filter((one) => one.note.page === page), ...markIn(place)],
        grid: grid === 'squares' ? 'squares' : grid === 'yes' ? 'tenths' : null,
      });
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
      .header('content-security-policy', "default-src 'none'; frame-ancestors 'none'; sandbox");
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
    wanted: {
      width: PreviewWidth;
      page: number;
      disposition: 'inline' | 'attachment';
      notes: readonly Drawn[];
      grid: Grid;
    },
  ) {
    const { width, page, disposition, notes, grid } = wanted;
    const superseded = await supersededBy(prisma, row.projectId, row.sha256);
    const across = superseded === null ? null : `SUPERSEDED BY REVISION ${superseded.revision}`;
    const etag = `"${sha256Hex(JSON.stringify([row.sha256, width, page, across, grid, notes])).slice(0, 32)}"`;
    if (request.headers['if-none-match'] === etag) return notModified(reply, etag);
    const instead = (picture: string, status: number) =>
      reply.status(status).header('cache-control', 'no-store').type('image/svg+xml').send(picture);
    try {
      await guard.check(row.sha256);
      const picture = await previews(row, { width, page, across, notes, grid });
      return await reply
        .header('etag', etag)
        .header('cache-control', 'private, no-cache')
        .header('content-disposition', `${disposition}; filename="${row.sha256.slice(0, 12)}.webp"`)
        .type('image/webp')
        .send(picture);
    } catch (error) {
      if (error instanceof HashFailure) {
        request.log.error({ err: error, attachmentId: row.id }, 'hash failure');
        return instead(hashFailurePicture, 500);
      }
      if (error instanceof PdfUnreadable || error instanceof HeicUnreadable) {
        if (error.why === 'too much') request.log.warn({ attachmentId: row.id }, 'a page was given up');
        return instead(noPreviewPicture, error.why === 'no such page' ? 404 : 200);
      }
      throw error;
    }
  }
}

/** Page 1 where the address names none. */
function pageNumber(text: string | undefined): number {
  return text !== undefined && /^[1-9]\d{0,4}$/.test(text) ? Number(text) : 1;
}

async function notModified(reply: FastifyReply, etag: string) {
  return reply.status(304).header('etag', etag).header('cache-control', 'private, no-cache').send();
}
