import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { paperAsked } from '../pdf/paper.ts';
import { sendPdf } from '../pdf/send.ts';
import { ownerSummary } from './gather.ts';
import { ownerSummaryPdf } from './pdf.ts';

/** The owner's page on paper. */
export async function ownerSummaryRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { openingId: string }; Querystring: { paper?: string } }>(
    '/projects/:projectId/openings/:openingId/progress.pdf',
    { config: { access: 'progress.read' } },
    async (request, reply) => {
      const openingId = idOr404(request.params.openingId);
      const summary = await ownerSummary(deps, actorOf(request), openingId, deps.config.publicUrl);
      const pdf = await ownerSummaryPdf(summary, paperAsked(request.query.paper));
      return sendPdf(reply, pdf, `summary-opening-${summary.ordinal}`);
    },
  );
}
