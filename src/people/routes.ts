import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Deps } from '../web/deps.ts';
import { judgeFlat, type FormState } from '../web/forms/judge.ts';
import { typedFrom } from '../web/forms/read.ts';
import { actorOf } from '../web/plugins/access.ts';
import { acceptInvitation, invite, readInvitation, withdrawInvitation } from './invitations/service.ts';
import { emailSchema } from './accounts/schemas.ts';
import { removeMember } from './memberships/service.ts';
import { roleMay } from './permissions.ts';
import { roles } from './roles.ts';

const invitationSchema = z.object({
  role: z.enum(roles, 'Choose what this person will be in the project.'),
  label: z.string().trim().min(1, 'Write for whom the link is.').max(80, 'Use at most 80 characters.'),
  email: z.union([z.literal('').transform(() => undefined), emailSchema]).optional(),
});

const idSchema = z.uuid();

/** A malformed id is an id that isn't there. */
export function idOr404(id: string): string {
  return idSchema.safeParse(id).success ? id : '00000000-0000-0000-0000-000000000000';
}

export async function peopleRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma } = deps;

  async function peoplePage(projectId: string, mayInvite: boolean) {
    const now = deps.clock();
    const [members, invitations] = await Promise.all([
      prisma.membership.findMany({
        where: { projectId },
        orderBy: { createdAt: 'asc' },
        include: { person: { select: { name: true } } },
      }),
      mayInvite
        ? prisma.invitation.findMany({
            where: { projectId, usedAt: null, withdrawnAt: null, expiresAt: { gt: now } },
            orderBy: { createdAt: 'asc' },
          })
        : [],
    ]);
    return {
      present: members.filter((member) => member.revokedAt === null),
      former: members.filter((member) => member.revokedAt !== null),
      invitations,
      mayInvite,
      roles,
    };
  }

  app.get('/projects/:projectId/people', { config: { access: 'people.read' } }, async (request, reply) => {
    const actor = actorOf(request);
    const page = await peoplePage(actor.projectId, roleMay(actor.role, 'people.invite'));
    return reply.page('people/people.njk', { ...page, me: actor.personId });
  });

  app.post(
    '/projects/:projectId/invitations',
    {
      config: {
        access: 'people.invite',
        keepForm: ({ projectId = '' }) => `/projects/${projectId}/people`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const judged = judgeFlat(invitationSchema, typedFrom(request.body));
      const show = async (form: FormState, link?: { url: string; role: string; expiresAt: Date }) =>
        reply.page('people/people.njk', {
          ...(await peoplePage(actor.projectId, true)),
          me: actor.personId,
          form,
          link,
        });
      if (!judged.ok) {
        reply.status(422);
        return show(judged.form);
      }
      const { role, label, email } = judged.content;
      const { token, expiresAt } = await invite(deps, actor, {
        role,
        label,
        ...(email === undefined ? {} : { email }),
      });
      if (email !== undefined) {
        reply.flash(`A letter with a one-time link is on its way to ${email}.`);
        return reply.redirect(`/projects/${actor.projectId}/people`, 303);
      }
      // Shown once, on this page alone: only its hash is kept.
      const url = `${deps.config.publicUrl}/invitations/${token}`;
      return show({ values: {}, errors: {} }, { url, role, expiresAt });
    },
  );

  app.post<{ Params: { invitationId: string } }>(
    '/projects/:projectId/invitations/:invitationId/withdrawal',
    { config: { access: 'people.invite' } },
    async (request, reply) => {
      const actor = actorOf(request);
      await withdrawInvitation(deps, actor, { invitationId: idOr404(request.params.invitationId) });
      reply.flash('The link is withdrawn and leads nowhere now.');
      return reply.redirect(`/projects/${actor.projectId}/people`, 303);
    },
  );

  app.post<{ Params: { membershipId: string } }>(
    '/projects/:projectId/members/:membershipId/removal',
    { config: { access: 'people.remove' } },
    async (request, reply) => {
      const actor = actorOf(request);
      await removeMember(deps, actor, { membershipId: idOr404(request.params.membershipId) });
      reply.flash('Access has ended. What the person did stays in the record.');
      return reply.redirect(`/projects/${actor.projectId}/people`, 303);
    },
  );

  app.get<{ Params: { token: string } }>(
    '/invitations/:token',
    { config: { access: 'invitation.read', rateLimit: { max: 30, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      const invitation = await readInvitation(deps, request.params.token);
      return reply.page('people/invitation.njk', { invitation, token: request.params.token });
    },
  );

  app.post<{ Params: { token: string } }>(
    '/invitations/:token',
    { config: { access: 'invitation.accept', rateLimit: { max: 30, timeWindow: '5 minutes' } } },
    async (request, reply) => {
      const { person } = request;
      if (person === null) return reply.redirect('/sign-in', 303);
      const { projectId } = await acceptInvitation(deps, person, request.params.token);
      return reply.redirect(`/projects/${projectId}`, 303);
    },
  );
}
