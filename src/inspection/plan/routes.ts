import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { roleMay } from '../../people/permissions.ts';
import { Conflict, Invalid, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { holdPoints } from '../checks/check.ts';
import type { PlanChange } from './change.ts';
import { planInspections } from './service.ts';
import { jurisdictionOf, planHistory, planOf } from './store.ts';

interface ProjectPath {
  Params: { projectId: string };
  Querystring: { check?: string };
}

const pageOfPlan = ({ projectId = '' }, { key = '' }: Typed) =>
  `/projects/${projectId}/inspections${key === '' ? '' : `?${new URLSearchParams({ check: key }).toString()}`}`;

/** Which inspections a project has, on a page of its own. */
export async function planRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function page(actor: Actor, reply: FastifyReply, checkKey: string, form?: FormState) {
    const plan = await planOf(prisma, actor.projectId);
    const edited = plan.checks.find((check) => check.key === checkKey);
    const names = Object.fromEntries(plan.visits.map(({ key, name }) => [`name.${key}`, name]));
    const boxes = edited === undefined ? {} : { ...edited, photoRequired: edited.photoRequired ? 'yes' : '' };
    return reply.page('inspection/plan.njk', {
      plan,
      visits: plan.visits.map((visit, index) => ({
        ...visit,
        first: index === 0,
        last: index === plan.visits.length - 1,
        checks: plan.checks.filter((check) => check.visit === visit.key),
      })),
      edited: edited ?? null,
      jurisdiction: await jurisdictionOf(prisma, actor.projectId),
      history: await planHistory(prisma, actor.projectId),
      visitChoices: plan.visits.map(({ key, name }) => ({ value: key, text: name })),
      stepChoices: [
        { value: '', text: 'nothing' },
        ...Object.values(holdPoints).map((step) => ({ value: step, text: step })),
      ],
      deciders: [
        { value: 'engineer', text: 'The engineer of this project' },
        { value: 'authority', text: 'The authority having jurisdiction, on its own papers' },
      ],
      mayPlan: roleMay(actor.role, 'inspections.plan'),
      form: {
        values: { ...names, ...boxes, ...form?.values },
        errors: form?.errors ?? {},
      },
    });
  }

  app.get<ProjectPath>(
    '/projects/:projectId/inspections',
    { config: { access: 'inspections.read' } },
    async (request, reply) => page(actorOf(request), reply, request.query.check ?? ''),
  );

  app.post<ProjectPath>(
    '/projects/:projectId/inspections',
    { config: { access: 'inspections.plan', keepForm: pageOfPlan } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const again = (status: number, errors: Readonly<Record<string, string>>) =>
        page(actor, reply.status(status), typed.key ?? '', { values: typed, errors });
      try {
        const { words } = await planInspections(deps, actor, {
          expectedNumber: Number(typed.expectedNumber),
          change: changeOf(typed),
        });
        reply.flash(`${words}.`);
        return await reply.redirect(`/projects/${actor.projectId}/inspections`, 303);
      } catch (error) {
        if (error instanceof Invalid) return again(422, error.fields);
        // The page shows the plan as it is now; what was typed stays in its boxes.
        if (error instanceof Conflict) return again(409, { '': error.message });
        throw error;
      }
    },
  );
}

/** What the pressed button asks for: 'rename:shoring', 'check', 'add visit'. */
function changeOf(typed: Typed): PlanChange {
  const [act = '', target = ''] = (typed.do ?? '').split(':');
  switch (act) {
    case 'rename':
      return { is: 'rename', visit: target, name: typed[`name.${target}`] ?? '' };
    case 'off':
      return { is: 'switch off', visit: target, decidedBy: typed[`decidedBy.${target}`] ?? '' };
    case 'on':
      return { is: 'switch on', visit: target };
    case 'up':
      return { is: 'move', visit: target, by: -1 };
    case 'down':
      return { is: 'move', visit: target, by: 1 };
    case 'visit':
      return { is: 'add visit', key: `local-${randomUUID()}`, name: typed.newVisit ?? '' };
    case 'drop':
      return { is: 'drop check', key: target };
    case 'check':
      return {
        is: 'put check',
        check: {
          key: typed.key === undefined || typed.key === '' ? randomUUID() : typed.key,
          visit: typed.visit ?? '',
          title: typed.title ?? '',
          criterion: typed.criterion ?? '',
          clause: typed.clause ?? '',
          howToLook: typed.howToLook ?? '',
          photoRequired: typed.photoRequired === 'yes',
          holdPoint: typed.holdPoint ?? '',
        },
      };
    default:
      throw new Refused('Choose what to change.');
  }
}
