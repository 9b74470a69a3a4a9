import type { FastifyInstance, FastifyReply } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { paperAsked } from '../pdf/paper.ts';
import { sendPdf } from '../pdf/send.ts';
import { sheetOfOpening, sheetOfSet } from './gather.ts';
import type { CalculationSheet } from './model.ts';
import { calculationSheetPdf } from './pdf.ts';

interface Query {
  Querystring: { paper?: string };
}

/** The calculation of an opening or of an issued set, on screen and as PDF. */
export async function calculationSheetRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  async function send(reply: FastifyReply, sheet: CalculationSheet, name: string, paper: string | undefined) {
    const pdf = await calculationSheetPdf(sheet, paperAsked(paper));
    return sendPdf(reply, pdf, name);
  }

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/calculation',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const openingId = idOr404(request.params.openingId);
      const sheet = await sheetOfOpening(deps, actorOf(request), openingId);
      return reply.page('report/calculation-sheet.njk', { sheet, back: `openings/${openingId}` });
    },
  );

  app.get<{ Params: { openingId: string } } & Query>(
    '/projects/:projectId/openings/:openingId/calculation.pdf',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const sheet = await sheetOfOpening(deps, actorOf(request), idOr404(request.params.openingId));
      return send(reply, sheet, `calculation-opening-${sheet.opening.ordinal}`, request.query.paper);
    },
  );

  app.get<{ Params: { setId: string } }>(
    '/projects/:projectId/sets/:setId/calculation',
    { config: { access: 'set.calculation' } },
    async (request, reply) => {
      const setId = idOr404(request.params.setId);
      const sheet = await sheetOfSet(deps, actorOf(request), setId);
      return reply.page('report/calculation-sheet.njk', { sheet, back: `sets/${setId}` });
    },
  );

  app.get<{ Params: { setId: string } } & Query>(
    '/projects/:projectId/sets/:setId/calculation.pdf',
    { config: { access: 'set.calculation' } },
    async (request, reply) => {
      const sheet = await sheetOfSet(deps, actorOf(request), idOr404(request.params.setId));
      return send(reply, sheet, `calculation-${sheet.opening.ordinal}-set`, request.query.paper);
    },
  );
}
