import type { FastifyRequest, RouteOptions } from 'fastify';
import fp from 'fastify-plugin';
import type { Actor } from '../../actor.ts';
import { Prisma, type PrismaClient } from '../../database/generated/client.ts';
import {
  membershipRow,
  readHeads,
  type AskedMembership,
  type MembershipRow,
} from '../../people/memberships/membership-row.ts';
import { sawMembership } from '../../people/memberships/seen-now.ts';
import { hasCodes } from '../../people/second-factor/factor.ts';
import { permissions, roleMay, type Action, type Rule } from '../../people/permissions.ts';
import type { Role } from '../../people/roles.ts';
import type { SignedIn } from '../../people/sessions/sessions.ts';
import { NotAllowed, NotFound } from '../../problems.ts';
import { sawHead, sharedReads, type ProjectViewer } from '../../record/read-together.ts';
import { isPage, projectOf } from './session.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** The line of the permission table that governs the route. Required. */
    access?: Action;
  }
  interface FastifyRequest {
    member: Member | null;
    /** Each of the person's projects, where the heads of their logs were read. */
    headedProjects: () => ReadonlyMap<string, HeadedProject>;
  }
  interface FastifyInstance {
    /** Every route with its line of the permission table, for the role × route test. */
    routeTable: () => readonly { method: string; url: string; access: Action }[];
  }
}

export interface Member {
  readonly actor: Actor;
  readonly project: {
    readonly id: string;
    readonly name: string;
    readonly role: Role;
    /** Of the house. */
    readonly timeZone: string;
  };
  /** The last line of the project's log before anything for this page was read; null where it is no page. */
  readonly seen: number | null;
}

export interface HeadedProject {
  readonly role: Role;
  readonly viewer: ProjectViewer;
}

/** Thrown where a page needs a person and nobody is signed in; the error plugin leads to sign-in. */
export class SignInNeeded extends Error {
  override readonly name = 'SignInNeeded';
}

/** Thrown where the installation asks codes of everybody and this person has none yet; the error plugin leads there. */
export class CodesNeeded extends Error {
  override readonly name = 'CodesNeeded';
}

/** Open to a person who has yet to set up codes where everybody must: what is anyone's, and their own account. */
function isOpenWithoutCodes(action: Action): boolean {
  return action === 'account.manage' || action === 'account.signOut' || isAnyones(action);
}

/** The same for everybody. The first page is open to anyone, too, but shows a person's own projects. */
function isAnyones(action: Action): boolean {
  return permissions[action].who === 'anyone' && action !== 'home.read';
}

/** Who is signed in, on a page of their own. @throws SignInNeeded */
export function signedIn(request: FastifyRequest): SignedIn {
  if (request.person === null) throw new SignInNeeded();
  return request.person;
}

/** A form whose session ended, on a route that keeps such forms: refused by the plugin that keeps them. */
export function isKeepable(request: FastifyRequest): boolean {
  const { keepForm } = request.routeOptions.config;
  return request.method === 'POST' && request.person === null && keepForm !== undefined;
}

function isAction(value: unknown): value is Action {
  return typeof value === 'string' && Object.hasOwn(permissions, value);
}

/**
 * Deny by default. Each route says which line of the permission table it stands under; one that doesn't, or
 * a member route without a project in its address, stops the service from starting.
 */
export const access = fp<{ prisma: PrismaClient; codesRequired: boolean }>(
  async (app, { prisma, codesRequired }) => {
    const reads = sharedReads();
    const table: { method: string; url: string; route: RouteOptions }[] = [];

    app.decorateRequest('member', null);
    app.decorateRequest('headedProjects', function headedProjects() {
      return new Map(
        readHeads(this.beside?.heads).map(({ projectId, role, seq }) => {
          const viewer = { projectId };
          sawHead(viewer, seq, reads);
          return [projectId, { role, viewer }];
        }),
      );
    });
    app.decorate('routeTable', () =>
      table.flatMap(({ method, url, route }) =>
        isAction(route.config?.access) ? [{ method, url, access: route.config.access }] : [],
      ),
    );

    app.addHook('onRoute', (route) => {
      for (const method of [route.method].flat()) table.push({ method, url: route.url, route });
    });

    app.addHook('onReady', async () => {
      for (const { method, url, route } of table) {
        const action: unknown = route.config?.access;
        if (!isAction(action)) throw new Error(`${method} ${url} has no line in the permission table.`);
        const rule: Rule = permissions[action];
        if (rule.who === 'members' && !/^(\/api\/v1)?\/projects\/:projectId/.test(url)) {
          throw new Error(`${method} ${url} is for members but names no project.`);
        }
      }
    });

    app.addHook('onRequest', async (request, reply) => {
      const action = request.routeOptions.config.access;
      // The not-found handler has no route of its own and shows nothing.
      if (action === undefined) return;
      const rule: Rule = permissions[action];
      const { person } = request;
      if (codesRequired && person !== null && request.token === null && !isOpenWithoutCodes(action)) {
        if (!(await hasCodes(prisma, person.personId))) throw new CodesNeeded();
      }
      if (isAnyones(action)) return;
      if (request.sessionProblem !== null) throw request.sessionProblem;
      if (rule.who === 'anyone') return;
      if (request.person === null) {
        if (isKeepable(request)) return;
        throw new SignInNeeded();
      }
      if (rule.who === 'signed in') return;
      request.member = await findMember(prisma, request, request.person);
      if (request.member === null) throw new NotFound();
      // Whatever was read of it was read since the request came.
      sawMembership(request.member.actor, performance.now() - reply.elapsedTime);
      if (request.member.seen !== null) sawHead(request.member.actor, request.member.seen, reads);
      const { personId } = request.person;
      if (!roleMay(request.member.actor.role, action)) {
        const { projectId: inProject, role } = request.member.actor;
        request.log.warn({ action, personId, projectId: inProject, role }, 'refused by the permission table');
        throw new NotAllowed('Your role in this project does not include that.');
      }
    });
  },
  { name: 'access', dependencies: ['session'] },
);

async function findMember(
  prisma: PrismaClient,
  request: FastifyRequest,
  { personId, name }: SignedIn,
): Promise<Member | null> {
  const projectId = projectOf(request);
  if (projectId === undefined) return null;
  // The query that found a session has read it; a program's token has not.
  const {
    role = null,
    project = null,
    timeZone = null,
    seen,
  } = request.beside ??
  (await readMembership(prisma, personId, { projectId, withSeen: isPage(request) })) ??
  {};
  if (role === null || project === null || timeZone === null) return null;
  return {
    actor: { personId, name, role, projectId },
    project: { id: projectId, name: project, role, timeZone },
    seen: isPage(request) ? (seen ?? 0) : null,
  };
}

async function readMembership(
  prisma: PrismaClient,
  personId: string,
  asked: AskedMembership,
): Promise<MembershipRow | undefined> {
  const [row] = await prisma.$queryRaw<MembershipRow[]>(membershipRow(Prisma.sql`${personId}::uuid`, asked));
  return row;
}

/** Of the house whose page this is. */
export function timeZoneOf(request: FastifyRequest): string {
  if (request.member === null) throw new NotFound();
  return request.member.project.timeZone;
}

/** The acting member of a project route; the access hook has put it there. */
export function actorOf(request: FastifyRequest): Actor {
  if (request.member === null) throw new NotFound();
  return request.member.actor;
}
