import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid, NotFound } from '../../problems.ts';
import { backTo } from '../../record/marks/routes.ts';
import { findOpening } from '../../record/openings/find.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { visitTitles } from '../checks/check.ts';
import { lateFindings, openVisits, placeLate, setLateAside } from './late.ts';
import { placeFor } from './rules.ts';

interface LatePath {
  Params: { phoneFindingId: string };
}

/** Findings that came after their visit was closed: shown with their photos, for an inspector to place. */
export async function lateFindingRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function latePage(actor: Actor, reply: FastifyReply, openingId: string, form?: FormState) {
    const { projectId, role } = actor;
    const opening = await findOpening(prisma, actor, openingId);
    const [late, visits] = await Promise.all([
      lateFindings(prisma, projectId, opening.id),
      openVisits(prisma, projectId, opening.id),
    ]);
    const photos = await attachmentsOf(
      prisma,
      projectId,
      role,
      'phone_finding',
      late.map(({ id }) => id),
    );
    return reply.page('inspection/late.njk', {
      opening,
      visitTitles,
      late: late.map((one) => ({
        ...one,
        photosKept: photos.filter((photo) => photo.subjectId === one.id),
        place: placeFor(
          { key: one.check.key, versionId: one.check.versionId ?? '', visitKind: one.check.visitKind },
          visits,
        ),
      })),
      may: { place: roleMay(role, 'finding.record') },
      form: form ?? { values: {}, errors: {} },
    });
  }

  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/late-findings',
    { config: { access: 'visit.read' } },
    async (request, reply) => latePage(actorOf(request), reply, request.params.openingId),
  );

  async function openingOf(actor: Actor, phoneFindingId: string): Promise<string> {
    const late = await prisma.phoneFinding.findFirst({
      where: { id: phoneFindingId, projectId: actor.projectId, findingId: null },
      select: { visit: { select: { openingId: true } } },
    });
    if (late === null) throw new NotFound('That finding');
    return late.visit.openingId;
  }

  app.post<LatePath>(
    '/projects/:projectId/late-findings/:phoneFindingId/place',
    { config: { access: 'finding.record' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const id = idOr404(request.params.phoneFindingId);
      const openingId = await openingOf(actor, id);
      await placeLate(deps, actor, id);
      reply.flash('The finding stands in the open visit now.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/late-findings`, 303);
    },
  );

  app.post<LatePath>(
    '/projects/:projectId/late-findings/:phoneFindingId/aside',
    {
      config: {
        access: 'finding.record',
        keepForm: ({ projectId = '' }, { back }) => backTo(projectId, back),
        keepBoxes: ({ phoneFindingId = '' }, { reason = '' }) => ({ [`reason.${phoneFindingId}`]: reason }),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const id = idOr404(request.params.phoneFindingId);
      const openingId = await openingOf(actor, id);
      const { reason = '' } = typedFrom(request.body);
      try {
        await setLateAside(deps, actor, { phoneFindingId: id, reason });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const values = { [`reason.${id}`]: reason };
        return await latePage(actor, reply.status(422), openingId, { values, errors: error.fields });
      }
      reply.flash('It is set aside and stays in the record.');
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/late-findings`, 303);
    },
  );
}
