import { z } from 'zod';
import { NotFound } from '../../problems.ts';
import { eventWords } from '../../record/events/words.ts';
import { asMember } from '../../record/use-case.ts';
import type { Deps } from '../../web/deps.ts';
import { idsOf } from '../about.ts';
import { operation, type Operation } from '../operation.ts';
import {
  byNumber,
  idSchema,
  limitSchema,
  noParams,
  noQuery,
  openingParams,
  pageOf,
  projectParams,
} from '../schemas/common.ts';
import { eventSchema, openingSchema, projectSchema } from '../schemas/record.ts';

const sets = {
  orderBy: { number: 'desc' },
  take: 1,
  select: { id: true, number: true, issuedAt: true },
} as const;

interface OpeningRow {
  readonly id: string;
  readonly ordinal: number;
  readonly name: string;
  readonly createdAt: Date;
  readonly sets: readonly { readonly id: string; readonly number: number; readonly issuedAt: Date }[];
}

function openingLine({ id, ordinal, name, createdAt, sets: [newest] }: OpeningRow) {
  return {
    openingId: id,
    ordinal,
    name,
    createdAt: createdAt.toISOString(),
    newestSet:
      newest === undefined
        ? null
        : { setId: newest.id, number: newest.number, issuedAt: newest.issuedAt.toISOString() },
  };
}

/** One's projects, their openings and their log. */
export function projectOperations(deps: Deps): Operation[] {
  const details = {
    id: true,
    name: true,
    address: true,
    jurisdiction: true,
    permitNumber: true,
    timeZone: true,
    createdAt: true,
  } as const;

  return [
    operation(
      {
        id: 'listProjects',
        method: 'GET',
        path: '/projects',
        tag: 'Projects',
        summary: 'The projects that you are a member of',
        access: 'api.use',
        scope: 'read',
        status: 200,
      },
      {
        params: noParams,
        query: z.strictObject({ limit: limitSchema, after: idSchema.optional() }),
        body: null,
        answer: pageOf(projectSchema, idSchema),
      },
      async ({ person: { personId }, query: { limit, after } }) => {
        const rows = await deps.prisma.membership.findMany({
          where: { personId, revokedAt: null, ...(after === undefined ? {} : { projectId: { gt: after } }) },
          orderBy: { projectId: 'asc' },
          take: limit + 1,
          select: { role: true, project: { select: details } },
        });
        const items = rows.slice(0, limit).map(({ role, project: { id, createdAt, ...rest } }) => ({
          projectId: id,
          ...rest,
          role,
          createdAt: createdAt.toISOString(),
        }));
        return { body: { items, next: rows.length > limit ? (items.at(-1)?.projectId ?? null) : null } };
      },
    ),
    operation(
      {
        id: 'readProject',
        method: 'GET',
        path: '/projects/{projectId}',
        tag: 'Projects',
        summary: 'One project',
        access: 'project.read',
        scope: 'read',
        status: 200,
      },
      { params: projectParams, query: noQuery, body: null, answer: projectSchema },
      async ({ actor }) => {
        const project = await asMember(deps, actor(), 'project.read', (tx, { projectId }) =>
          tx.project.findUniqueOrThrow({ where: { id: projectId }, select: details }),
        );
        const { id, createdAt, ...rest } = project;
        return { body: { projectId: id, ...rest, role: actor().role, createdAt: createdAt.toISOString() } };
      },
    ),
    operation(
      {
        id: 'listOpenings',
        method: 'GET',
        path: '/projects/{projectId}/openings',
        tag: 'Projects',
        summary: 'The openings of a project',
        access: 'opening.read',
        scope: 'read',
        status: 200,
      },
      {
        params: projectParams,
        query: byNumber,
        body: null,
        answer: pageOf(openingSchema, z.int()),
      },
      async ({ actor, query: { limit, after } }) => {
        const rows = await asMember(deps, actor(), 'opening.read', (tx, { projectId }) =>
          tx.opening.findMany({
            where: { projectId, ...(after === undefined ? {} : { ordinal: { gt: after } }) },
            orderBy: { ordinal: 'asc' },
            take: limit + 1,
            include: { sets },
          }),
        );
        const items = rows.slice(0, limit).map(openingLine);
        return { body: { items, next: rows.length > limit ? (items.at(-1)?.ordinal ?? null) : null } };
      },
    ),
    operation(
      {
        id: 'readOpening',
        method: 'GET',
        path: '/projects/{projectId}/openings/{openingId}',
        tag: 'Projects',
        summary: 'One opening',
        access: 'opening.read',
        scope: 'read',
        status: 200,
      },
      { params: openingParams, query: noQuery, body: null, answer: openingSchema },
      async ({ actor, params: { openingId } }) => {
        const row = await asMember(deps, actor(), 'opening.read', (tx, { projectId }) =>
          tx.opening.findFirst({ where: { id: openingId, projectId }, include: { sets } }),
        );
        if (row === null) throw new NotFound('That opening');
        return { body: openingLine(row) };
      },
    ),
    operation(
      {
        id: 'listEvents',
        method: 'GET',
        path: '/projects/{projectId}/events',
        tag: 'Projects',
        summary: 'The log of a project, oldest first',
        description:
          'Append-only and hash-chained. Keep the last “seq” that you have read and hand it in as “after”.',
        access: 'log.read',
        scope: 'read',
        status: 200,
      },
      { params: projectParams, query: byNumber, body: null, answer: pageOf(eventSchema, z.int()) },
      async ({ actor, query: { limit, after } }) => {
        const rows = await asMember(deps, actor(), 'log.read', (tx, { projectId }) =>
          tx.event.findMany({
            where: { projectId, seq: { gt: after ?? 0 } },
            orderBy: { seq: 'asc' },
            take: limit + 1,
          }),
        );
        const items = rows
          .slice(0, limit)
          .map(({ seq, at, type, actorName, payload: text, prevHash, hash }) => {
            const payload = JSON.parse(text) as unknown;
            const about = idsOf(payload);
            const words = eventWords(type, payload);
            return { seq, at: at.toISOString(), type, actorName, words, about, prevHash, hash };
          });
        return { body: { items, next: rows.length > limit ? (items.at(-1)?.seq ?? null) : null } };
      },
    ),
  ];
}
