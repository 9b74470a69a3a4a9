import type { FastifyInstance } from 'fastify';
import { LARGEST_PICTURE_BYTES } from '../../attachments/pictures.ts';
import { idOr404 } from '../../people/routes.ts';
import { NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { formOwner } from '../../web/plugins/security.ts';
import { keyOfVisit, visitName } from '../plan/plan.ts';
import { planOf } from '../plan/store.ts';
import { photosOfFindings } from '../photos.ts';
import { checksOfVisit, checkStatuses, inVisitOrder } from '../status.ts';
import { checksOfSet, findingsOfOpening, setForChecklist } from '../store.ts';
import { setInForce, withSets } from '../visits/set-in-force.ts';
import { drawingsOfSet } from './kept.ts';
import { differencesBetween } from './rules.ts';

interface VisitPath {
  Params: { visitId: string };
}

/** What a phone keeps of a visit, to go on without a network, and what it asks before it sends. */
export async function keptVisitRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get<VisitPath>(
    '/projects/:projectId/visits/:visitId/kept',
    { config: { access: 'finding.record' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId } = actor;
      const visit = await prisma.visit.findFirst({
        where: { id: idOr404(request.params.visitId), projectId },
        include: { opening: true, closing: true, ...withSets },
      });
      if (visit === null) throw new NotFound('That visit');
      const set = setInForce(visit);
      const visitKey = keyOfVisit(visit);
      const [checks, findings, newest, drawings] = await Promise.all([
        checksOfSet(prisma, set.setId),
        findingsOfOpening(prisma, projectId, visit.openingId),
        setForChecklist(prisma, projectId, visit.openingId),
        drawingsOfSet(prisma, actor, set.setId),
      ]);
      const own = checksOfVisit(visitKey, checkStatuses(set.number, checks, findings));
      const statuses = inVisitOrder(own, visit.number);
      const photosBy = await photosOfFindings(
        prisma,
        actor,
        statuses.flatMap((status) => status.history),
      );
      const later = newest !== null && newest.number > set.number ? newest : null;
      const laterChecks = later === null ? [] : await checksOfSet(prisma, later.setId);
      const plan = await planOf(prisma, projectId, visit.planNumber);
      const project = request.member?.project ?? null;
      const draw = (template: string, data: object) => app.view(template, data);

      return reply.header('cache-control', 'no-store').send({
        person: { personId: actor.personId, name: actor.name },
        csrfToken: reply.generateCsrf({ userInfo: formOwner(request) }),
        project: { projectId, name: project?.name ?? '' },
        visit: {
          visitId: visit.id,
          number: visit.number,
          kind: visit.kind,
          title: visitName(plan, visitKey),
          opening: visit.opening.name,
          openedAt: visit.openedAt.toISOString(),
        },
        closed: await closedBy(visit.closing),
        set: { number: set.number, hash: set.hash },
        later:
          later === null
            ? null
            : {
                number: later.number,
                differences: differencesBetween(own, checksOfVisit(visitKey, laterChecks)),
              },
        cautions: await draw('inspection/kept-cautions.njk', { kind: visit.kind }),
        checks: await Promise.all(
          statuses.map(async (status) => ({
            checkId: status.checkId,
            title: status.title,
            photoRequired: status.photoRequired,
            state: status.state,
            lastFindingId: status.finding?.findingId ?? null,
            details: await draw('inspection/kept-check.njk', {
              status,
              photosBy,
              project: { id: projectId },
            }),
          })),
        ),
        drawings,
        photos: Object.values(photosBy)
          .flat()
          .map((photo) => ({
            url: `/projects/${projectId}/attachments/${photo.attachmentId}/preview/320`,
            words: photo.caption,
          })),
        largestPhotoBytes: Math.min(LARGEST_PICTURE_BYTES, deps.config.uploadLimitBytes),
      });
    },
  );

  async function closedBy(
    closing: { readonly outcome: string; readonly closedById: string; readonly closedAt: Date } | null,
  ) {
    if (closing === null) return null;
    const by = await prisma.person.findUnique({ where: { id: closing.closedById }, select: { name: true } });
    const { outcome, closedById, closedAt } = closing;
    return {
      outcome,
      closedById,
      closedByName: by?.name ?? '',
      closedAt: closedAt.toISOString(),
    };
  }
}
