import type { FastifyInstance, FastifyReply } from 'fastify';
import { idOr404 } from '../../people/routes.ts';
import { NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { figuresDxf, figureSvg, type Figure } from '../drawings/scaled/index.ts';
import { paperAsked } from '../pdf/paper.ts';
import { drawingsOfOpening, drawingsOfSet, type OpeningDrawings } from './gather.ts';
import { lyingSheet, viewsOf } from './views.ts';

interface Paper {
  Querystring: { paper?: string };
}

/** Elevation and sections to scale: on a page, each as SVG, all as one DXF; of an issued set or of a proposal. */
export async function openingDrawingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { setId: string } } & Paper>(
    '/projects/:projectId/sets/:setId/drawings',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const setId = idOr404(request.params.setId);
      return page(reply, await drawingsOfSet(deps, actorOf(request), setId), `sets/${setId}`);
    },
  );

  app.get<{ Params: { setId: string; file: string } } & Paper>(
    '/projects/:projectId/sets/:setId/drawings/:file',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const { setId, file } = request.params;
      return send(reply, await drawingsOfSet(deps, actorOf(request), idOr404(setId)), file, request.query);
    },
  );

  app.get<{ Params: { openingId: string } } & Paper>(
    '/projects/:projectId/openings/:openingId/drawings',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const openingId = idOr404(request.params.openingId);
      return page(reply, await drawingsOfOpening(deps, actorOf(request), openingId), `openings/${openingId}`);
    },
  );

  app.get<{ Params: { openingId: string; file: string } } & Paper>(
    '/projects/:projectId/openings/:openingId/drawings/:file',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { openingId, file } = request.params;
      const found = await drawingsOfOpening(deps, actorOf(request), idOr404(openingId));
      return send(reply, found, file, request.query);
    },
  );
}

function views({ drawn }: OpeningDrawings, paper: unknown): readonly Figure[] {
  const room = lyingSheet(paperAsked(paper));
  return drawn === null ? [] : viewsOf(drawn, { elevation: room, section: room });
}

async function page(reply: FastifyReply, found: OpeningDrawings, back: string) {
  const figures = views(found, undefined).map((figure) => ({
    name: figure.name,
    title: figure.title,
    scale: figure.scale.name,
    svg: figureSvg(figure.name, figure).markup,
  }));
  return reply.page('report/drawings.njk', { found, figures, back });
}

const FILE = /^(elevation|section-left|section-right|drawings)\.(svg|dxf)$/;

/** @throws NotFound for a name that no drawing has; Refused where nothing can be drawn */
function send(reply: FastifyReply, found: OpeningDrawings, file: string, query: { paper?: string }) {
  const [, name = '', kind = ''] = FILE.exec(file) ?? [];
  if (name === '' || (name === 'drawings') !== (kind === 'dxf')) throw new NotFound('That drawing');
  if (found.drawn === null) throw new Refused(found.why);
  const figures = views(found, query.paper);
  const stand = found.set === null ? 'proposal' : `set-${found.set.number}`;
  const of = `opening-${found.opening.ordinal}-${stand}`;
  if (kind === 'dxf') return download(reply, figuresDxf(figures), 'image/vnd.dxf', `${of}.dxf`);
  const figure = figures.find((one) => one.name === name);
  if (figure === undefined) throw new NotFound('That drawing');
  const { markup } = figureSvg(name, figure);
  return download(reply, markup, 'image/svg+xml', `${of}-${name}.svg`);
}

function download(reply: FastifyReply, body: string, type: string, name: string) {
  return reply
    .type(`${type}; charset=utf-8`)
    .header('content-disposition', `attachment; filename="${name}"`)
    .header('cache-control', 'private, no-store')
    .header('x-content-type-options', 'nosniff')
    .send(body);
}
