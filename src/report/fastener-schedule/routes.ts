import type { FastifyInstance } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { paperAsked } from '../pdf/paper.ts';
import { sendPdf } from '../pdf/send.ts';
import { scheduleOfOpening, scheduleOfSet } from './gather.ts';
import { fastenerSchedulePdf } from './pdf.ts';

interface Query {
  Querystring: { paper?: string };
}

/** The schedule as PDF: of an issued set, and of the newest state for those who work on it. */
export async function fastenerScheduleRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { setId: string } } & Query>(
    '/projects/:projectId/sets/:setId/schedule.pdf',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const sheet = await scheduleOfSet(deps, actorOf(request), idOr404(request.params.setId));
      const pdf = await fastenerSchedulePdf(sheet, paperAsked(request.query.paper));
      return sendPdf(reply, pdf, `schedule-opening-${sheet.opening.ordinal}-set-${sheet.setNumber}`);
    },
  );

  app.get<{ Params: { openingId: string } } & Query>(
    '/projects/:projectId/openings/:openingId/schedule.pdf',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const sheet = await scheduleOfOpening(deps, actorOf(request), idOr404(request.params.openingId));
      const pdf = await fastenerSchedulePdf(sheet, paperAsked(request.query.paper));
      return sendPdf(reply, pdf, `schedule-opening-${sheet.opening.ordinal}-working-state`);
    },
  );
}
