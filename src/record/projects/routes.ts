import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { galleryOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import type { Deps } from '../../web/deps.ts';
import { judgeFlat, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf, SignInNeeded } from '../../web/plugins/access.ts';
import { openingsOfProject } from '../openings/list.ts';
import { createOpening } from '../openings/service.ts';
import { cursorText, readNumberCursor } from '../time-cursor.ts';
import { readLog } from './log.ts';
import { openingSchema, projectSchema } from './schemas.ts';
import { createProject, editProject } from './service.ts';
import { UNTOLD_ZONE } from '../../house-time.ts';
import { zoneChoices, zoneWords } from './time-zones.ts';

/** Where the page's own lists go on. */
const pageQuery = z.object({ files: cursorText, after: cursorText });

/** Nothing is chosen for whoever has no script: a wrong zone would go unnoticed. */
const zonesOfNew = [{ value: '', text: 'choose the zone' }, ...zoneChoices];
const NOT_TOLD = 'Nobody has chosen the zone of this house yet: change these lines.';

const blank: FormState = { values: {}, errors: {} };

export async function projectRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  app.get('/projects/new', { config: { access: 'project.create' } }, async (_request, reply) =>
    reply.page('record/project-form.njk', { form: blank, zones: zonesOfNew }),
  );

  app.post(
    '/projects',
    { config: { access: 'project.create', keepForm: () => '/projects/new' } },
    async (request, reply) => {
      if (request.person === null) throw new SignInNeeded();
      const judged = judgeFlat(projectSchema, typedFrom(request.body));
      if (!judged.ok)
        return reply.status(422).page('record/project-form.njk', { form: judged.form, zones: zonesOfNew });
      const { projectId } = await createProject(deps, request.person, judged.content);
      reply.flash('The project is there. Next: the criteria that the house is judged by.');
      return reply.redirect(`/projects/${projectId}`, 303);
    },
  );

  app.get('/projects/:projectId', { config: { access: 'project.read' } }, async (request, reply) => {
    const actor = actorOf(request);
    const { projectId, role } = actor;
    const { files, after } = pageQuery.parse(request.query);
    const [details, openings, criteria, gallery] = await Promise.all([
      prisma.project.findUniqueOrThrow({ where: { id: projectId } }),
      openingsOfProject(prisma, projectId, after === undefined ? null : readNumberCursor(after)),
      prisma.item.findFirst({ where: { projectId, kind: 'criteria' }, select: { id: true } }),
      galleryOf(prisma, actor, 'project', projectId, files),
    ]);
    return reply.page('record/project.njk', {
      details,
      zone: {
        words: zoneWords(details.timeZone),
        note: details.timeZone === UNTOLD_ZONE && roleMay(role, 'project.edit') ? NOT_TOLD : '',
      },
      gallery,
      criteriaItemId: criteria?.id ?? null,
      openings,
      may: {
        edit: roleMay(role, 'project.edit'),
        addOpening: roleMay(role, 'opening.create'),
        readItems: roleMay(role, 'item.read'),
        readLog: roleMay(role, 'log.read'),
        share: roleMay(role, 'attachment.share'),
        attach: roleMay(role, 'attachment.add'),
        tell: roleMay(role, 'webhook.manage'),
        take: roleMay(role, 'record.take'),
      },
      form: blank,
    });
  });

  app.get('/projects/:projectId/edit', { config: { access: 'project.edit' } }, async (request, reply) => {
    const { projectId } = actorOf(request);
    const details = await prisma.project.findUniqueOrThrow({ where: { id: projectId } });
    const { name, address, jurisdiction, permitNumber, timeZone } = details;
    const form: FormState = { values: { name, address, jurisdiction, permitNumber, timeZone }, errors: {} };
    return reply.page('record/project-form.njk', { form, editing: true, zones: zoneChoices });
  });

  const pageOfEdit = ({ projectId = '' }) => `/projects/${projectId}/edit`;
  app.post(
    '/projects/:projectId/edit',
    { config: { access: 'project.edit', keepForm: pageOfEdit } },
    async (request, reply) => {
      const actor = actorOf(request);
      const judged = judgeFlat(projectSchema, typedFrom(request.body));
      if (!judged.ok) {
        const data = { form: judged.form, editing: true, zones: zoneChoices };
        return reply.status(422).page('record/project-form.njk', data);
      }
      await editProject(deps, actor, judged.content);
      reply.flash('Saved.');
      return reply.redirect(`/projects/${actor.projectId}`, 303);
    },
  );

  app.post(
    '/projects/:projectId/openings',
    { config: { access: 'opening.create', keepForm: ({ projectId = '' }) => `/projects/${projectId}` } },
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
