import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { paperAsked } from '../pdf/paper.ts';
import { sendPdf } from '../pdf/send.ts';
import { drawingSheetOfSet } from './gather.ts';
import { drawingSheetPdf } from './pdf.ts';

/** The drawings of an approved set as sheets, for all who build and inspect by it, and for the owner. */
export async function drawingSheetRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { setId: string }; Querystring: { paper?: string } }>(
    '/projects/:projectId/sets/:setId/drawings.pdf',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const setId = idOr404(request.params.setId);
      const sheet = await drawingSheetOfSet(deps, actorOf(request), setId, deps.config.publicUrl);
      const pdf = await drawingSheetPdf(sheet, paperAsked(request.query.paper));
      return sendPdf(
        reply,
        pdf,
        `drawings-opening-${sheet.drawings.opening.ordinal}-set-${sheet.set.number}`,
      );
    },
  );
}
