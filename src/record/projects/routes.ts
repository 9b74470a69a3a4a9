import type { FastifyInstance } from 'fastify';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf, SignInNeeded } from '../../web/plugins/access.ts';
import { createOpening } from '../openings/service.ts';
import { readLog } from './log.ts';
import { openingSchema, projectSchema } from './schemas.ts';
import { createProject, editProject } from './service.ts';

const blank: FormState = { values: {}, errors: {} };

export async function projectRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get('/projects/new', { config: { access: 'project.create' } }, async (_request, reply) =>
    reply.page('record/project-form.njk', { form: blank }),
  );

  app.post('/projects', { config: { access: 'project.create' } }, async (request, reply) => {
    if (request.person === null) throw new SignInNeeded();
    const judged = judgeFlat(projectSchema, typedFrom(request.body));
    if (!judged.ok) return reply.status(422).page('record/project-form.njk', { form: judged.form });
    const { projectId } = await createProject(deps, request.person, judged.content);
    reply.flash('The project is there. Next: the criteria that the house is judged by.');
    return reply.redirect(`/projects/${projectId}`, 303);
  });

  app.get('/projects/:projectId', { config: { access: 'project.read' } }, async (request, reply) => {
    const { projectId, role } = actorOf(request);
    const [details, openings, criteria, sets, attachments] = await Promise.all([
      prisma.project.findUniqueOrThrow({ where: { id: projectId } }),
      prisma.opening.findMany({ where: { projectId }, orderBy: { ordinal: 'asc' } }),
      prisma.item.findFirst({ where: { projectId, kind: 'criteria' }, select: { id: true } }),
      prisma.approvedSet.findMany({
        where: { projectId },
        orderBy: { issuedAt: 'desc' },
        select: { id: true, openingId: true, number: true, issuedAt: true },
      }),
      attachmentsOf(prisma, projectId, role, 'project', [projectId]),
    ]);
    return reply.page('record/project.njk', {
      details,
      attachments,
      criteriaItemId: criteria?.id ?? null,
      openings: openings.map((opening) => ({
        ...opening,
        newestSet: sets.find((set) => set.openingId === opening.id) ?? null,
      })),
      may: {
        edit: roleMay(role, 'project.edit'),
        addOpening: roleMay(role, 'opening.create'),
        readItems: roleMay(role, 'item.read'),
        readLog: roleMay(role, 'log.read'),
        share: roleMay(role, 'attachment.share'),
        attach: roleMay(role, 'attachment.add'),
        tell: roleMay(role, 'webhook.manage'),
      },
      form: blank,
    });
  });

  app.get('/projects/:projectId/edit', { config: { access: 'project.edit' } }, async (request, reply) => {
    const { projectId } = actorOf(request);
    const details = await prisma.project.findUniqueOrThrow({ where: { id: projectId } });
    const { name, address, jurisdiction, permitNumber } = details;
    const form: FormState = { values: { name, address, jurisdiction, permitNumber }, errors: {} };
    return reply.page('record/project-form.njk', { form, editing: true });
  });

  app.post('/projects/:projectId/edit', { config: { access: 'project.edit' } }, async (request, reply) => {
    const actor = actorOf(request);
    const judged = judgeFlat(projectSchema, typedFrom(request.body));
    if (!judged.ok) {
      return reply.status(422).page('record/project-form.njk', { form: judged.form, editing: true });
    }
    await editProject(deps, actor, judged.content);
    reply.flash('Saved.');
    return reply.redirect(`/projects/${actor.projectId}`, 303);
  });

  app.post(
    '/projects/:projectId/openings',
    { config: { access: 'opening.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const judged = judgeFlat(openingSchema, typedFrom(request.body));
      if (!judged.ok) {
        return reply.status(422).page('record/opening-form.njk', { form: judged.form });
      }
      const { openingId } = await createOpening(deps, actor, judged.content);
      return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}`, 303);
    },
  );

  app.get<{ Querystring: { before?: string } }>(
    '/projects/:projectId/log',
    { config: { access: 'log.read' } },
    async (request, reply) => {
      const { projectId } = actorOf(request);
      const before = /^\d{1,9}$/.test(request.query.before ?? '') ? Number(request.query.before) : null;
      return reply.page('record/log.njk', await readLog(prisma, projectId, before));
    },
  );
}
