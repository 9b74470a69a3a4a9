import type { FastifyInstance, FastifyReply } from 'fastify';
import { createIntegrityGuard } from '../../attachments/integrity.ts';
import { isPicture } from '../../attachments/media-types.ts';
import { createPreviews } from '../../attachments/previews.ts';
import { hashFailurePicture } from '../../attachments/failure-picture.ts';
import { isShownToOwner } from '../../attachments/store.ts';
import { HashFailure, NotFound } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { cursorText } from '../../record/time-cursor.ts';
import type { Deps } from '../../web/deps.ts';
import { openFamilyLink } from './family-links.ts';
import { readOwnersPage } from './read.ts';

/** Nobody is to find such a page by searching, or to learn its address from another site. */
function forNobodyElse(reply: FastifyReply): FastifyReply {
  return reply
    .header('x-robots-tag', 'noindex, nofollow, noarchive')
    .header('referrer-policy', 'no-referrer')
    .header('cache-control', 'private, no-store');
}

/**
 * The owner's page by a link of the owner's, without signing in: how far it is and the shared photos. No names, no
 * address of the house, no files; photos are drawn anew, without the camera's words.
 */
export async function familyRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, blobs } = deps;
  const guard = createIntegrityGuard(blobs, deps.clock);
  const previews = createPreviews(blobs, deps.config.dataFolder);

  app.get<{ Params: { token: string }; Querystring: { files?: string } }>(
    '/shared/:token',
    { config: { access: 'family.read', rateLimit: { max: 60, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      forNobodyElse(reply);
      const { token } = request.params;
      const { projectId, openingId } = await openFamilyLink(deps, token);
      const after = cursorText.parse(request.query.files);
      const { photos, ...page } = await readOwnersPage(deps, { projectId }, openingId, after);
      const html = await reply.page('site/family.njk', {
        page: { ...page, photos: photos.files.filter((photo) => photo.isPicture) },
        further: photos.next === null ? null : `/shared/${token}?files=${photos.next}`,
        photoBase: `/shared/${token}/photos`,
      });
      forNobodyElse(reply);
      return html;
    },
  );

  app.get<{ Params: { token: string; attachmentId: string } }>(
    '/shared/:token/photos/:attachmentId',
    { config: { access: 'family.read', rateLimit: { max: 600, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      forNobodyElse(reply);
      const { projectId, openingId } = await openFamilyLink(deps, request.params.token);
      const attachmentId = knownId(request.params.attachmentId, 'That photo');
      const shown = await isShownToOwner(prisma, projectId, openingId, attachmentId);
      const row = await prisma.attachment.findFirst({ where: { id: attachmentId, projectId } });
      if (!shown || row === null || !isPicture(row.mediaType)) throw new NotFound('That photo');
      try {
        await guard.check(row.sha256);
      } catch (error) {
        if (!(error instanceof HashFailure)) throw error;
        return reply.status(500).type('image/svg+xml').send(hashFailurePicture);
      }
      const picture = await previews(row, { width: 1280, page: 1, across: null, notes: [], grid: null });
      return reply.type('image/webp').send(picture);
    },
  );
}
