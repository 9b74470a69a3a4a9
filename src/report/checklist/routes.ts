import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { paperAsked } from '../pdf/paper.ts';
import { sendPdf } from '../pdf/send.ts';
import { checklistOfSet, checklistOfVisit } from './gather.ts';
import { checklistPdf } from './pdf.ts';

interface Query {
  Querystring: { paper?: string };
}

/** The inspector's list as PDF: of an issued set, to be filled in; of a closed visit, as it was closed. */
export async function checklistPaperRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { publicUrl } = deps.config;

  app.get<{ Params: { setId: string } } & Query>(
    '/projects/:projectId/sets/:setId/checklist.pdf',
    { config: { access: 'checklist.read' } },
    async (request, reply) => {
      const setId = idOr404(request.params.setId);
      const sheet = await checklistOfSet(deps, actorOf(request), setId, publicUrl);
      const pdf = await checklistPdf(sheet, paperAsked(request.query.paper));
      return sendPdf(reply, pdf, `checklist-opening-${sheet.opening.ordinal}-set-${sheet.set.number}`);
    },
  );

  app.get<{ Params: { visitId: string } } & Query>(
    '/projects/:projectId/visits/:visitId/checklist.pdf',
    { config: { access: 'visit.read' } },
    async (request, reply) => {
      const visitId = idOr404(request.params.visitId);
      const sheet = await checklistOfVisit(deps, actorOf(request), visitId, publicUrl);
      const pdf = await checklistPdf(sheet, paperAsked(request.query.paper));
      return sendPdf(
        reply,
        pdf,
        `visit-${sheet.visitNumber}-opening-${sheet.opening.ordinal}-set-${sheet.set.number}`,
      );
    },
  );
}
