import type { FastifyInstance, FastifyReply } from 'fastify';
import { listOf, type MaterialsList } from '../../engineering/materials-list/index.ts';
import { knownId } from '../../record/identifier.ts';
import { asMember } from '../../record/use-case.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import type { Actor } from '../../actor.ts';
import { approvedMaterials, type ApprovedMaterials } from './approved.ts';
import { materialsCsv } from './csv.ts';
import { shownList } from './show.ts';

interface OpeningPath {
  Params: { openingId: string };
}

/** The material list that an approved set calls for: of one opening, and of all openings of a house together. */
export async function materialRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const ofOpening = (actor: Actor, id: string): Promise<ApprovedMaterials> => {
    const openingId = knownId(id, 'That opening');
    return asMember(deps, actor, 'materials.read', (tx, { projectId }) =>
      approvedMaterials(tx, projectId, openingId),
    );
  };

  const ofProject = (actor: Actor): Promise<ApprovedMaterials[]> =>
    asMember(deps, actor, 'materials.read', async (tx, { projectId }) => {
      const openings = await tx.opening.findMany({ where: { projectId }, orderBy: { ordinal: 'asc' } });
      const found: ApprovedMaterials[] = [];
      for (const { id } of openings) found.push(await approvedMaterials(tx, projectId, id));
      return found;
    });

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/materials',
    { config: { access: 'materials.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const materials = await ofOpening(actor, request.params.openingId);
      return reply.page('site/materials/list.njk', {
        opening: materials,
        set: materials.set,
        gaps: materials.gaps,
        list: shownList(materials.list),
        several: (await deps.prisma.opening.count({ where: { projectId: actor.projectId } })) > 1,
      });
    },
  );

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/materials.csv',
    { config: { access: 'materials.read' } },
    async (request, reply) => {
      const { list, ordinal } = await ofOpening(actorOf(request), request.params.openingId);
      return sendCsv(reply, list, `materials-opening-${ordinal}.csv`);
    },
  );

  app.get(
    '/projects/:projectId/materials',
    { config: { access: 'materials.read' } },
    async (request, reply) => {
      const openings = await ofProject(actorOf(request));
      const list = listOf(openings.map(({ needs }) => needs));
      return reply.page('site/materials/of-project.njk', { openings, list: shownList(list) });
    },
  );

  app.get(
    '/projects/:projectId/materials.csv',
    { config: { access: 'materials.read' } },
    async (request, reply) => {
      const openings = await ofProject(actorOf(request));
      return sendCsv(reply, listOf(openings.map(({ needs }) => needs)), 'materials.csv');
    },
  );
}

function sendCsv(reply: FastifyReply, list: MaterialsList, name: string): FastifyReply {
  return reply
    .type('text/csv; charset=utf-8; header=present')
    .header('content-disposition', `attachment; filename="${name}"`)
    .header('cache-control', 'no-store')
    .header('x-content-type-options', 'nosniff')
    .send(materialsCsv(list));
}
