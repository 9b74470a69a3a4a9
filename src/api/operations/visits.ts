import { z } from 'zod';
import { Invalid, NotFound } from '../../problems.ts';
import { planOf } from '../../inspection/plan/store.ts';
import { findingsOfOpening, visitsOfOpening } from '../../inspection/store.ts';
import { recordFinding } from '../../inspection/visits/service.ts';
import { asMember } from '../../record/use-case.ts';
import type { Deps } from '../../web/deps.ts';
import { operation, type Operation } from '../operation.ts';
import { pointerTo } from '../problems/fields.ts';
import { WrongFields } from '../problems/refusals.ts';
import { byNumber, cut, idSchema, noQuery, openingParams, pageOf, visitParams } from '../schemas/common.ts';
import { timeSchema } from '../schemas/common.ts';
import { proseSchema } from '../schemas/sent.ts';
import { placedFindingSchema, resultSchema, visitSchema, visitWithFindingsSchema } from '../schemas/site.ts';
import { findingLine, visitLine } from './shown-visit.ts';

const inVisit = { tag: 'Visits', access: 'visit.read', scope: 'read', status: 200 } as const;

/** Inspections on site, what was found, and the placing of a finding. */
export function visitOperations(deps: Deps): Operation[] {
  return [
    operation(
      {
        ...inVisit,
        id: 'listVisits',
        method: 'GET',
        path: '/projects/{projectId}/openings/{openingId}/visits',
        summary: 'The visits of an opening, newest first',
      },
      { params: openingParams, query: byNumber, body: null, answer: pageOf(visitSchema, z.int()) },
      async ({ actor, params: { openingId }, query }) => {
        const visits = await asMember(deps, actor(), 'visit.read', async (tx, { projectId }) => {
          const opening = await tx.opening.findFirst({ where: { id: openingId, projectId } });
          if (opening === null) throw new NotFound('That opening');
          const plan = await planOf(tx, projectId);
          return (await visitsOfOpening(tx, projectId, openingId)).map((visit) => visitLine(visit, plan));
        });
        return { body: cut(visits, (visit) => visit.number, query, 'down') };
      },
    ),
    operation(
      {
        ...inVisit,
        id: 'readVisit',
        method: 'GET',
        path: '/projects/{projectId}/visits/{visitId}',
        summary: 'One visit and its findings, oldest first',
      },
      { params: visitParams, query: noQuery, body: null, answer: visitWithFindingsSchema },
      async ({ actor, params: { visitId } }) => ({
        body: await asMember(deps, actor(), 'visit.read', async (tx, { projectId }) => {
          const visit = await tx.visit.findFirst({
            where: { id: visitId, projectId },
            include: { closing: true, set: { select: { number: true } } },
          });
          if (visit === null) throw new NotFound('That visit');
          const plan = await planOf(tx, projectId, visit.planNumber);
          const findings = (await findingsOfOpening(tx, projectId, visit.openingId))
            .filter((finding) => finding.visitNumber === visit.number)
            .sort((one, other) => one.at.getTime() - other.at.getTime());
          return { ...visitLine(visit, plan), findings: findings.map(findingLine) };
        }),
      }),
    ),
    operation(
      {
        ...inVisit,
        id: 'placeFinding',
        method: 'POST',
        path: '/projects/{projectId}/visits/{visitId}/findings',
        summary: 'Add a finding to an open visit',
        description:
          'Make a clientKey once for each finding: sent again under it, the same finding is one finding, and another one is refused. Findings are added, never edited. Photos are added on the page of the visit.',
        access: 'finding.record',
        scope: 'inspect',
        status: 201,
      },
      {
        params: visitParams,
        query: noQuery,
        body: z.strictObject({
          checkId: idSchema,
          clientKey: z.string().regex(/^[\w-]{8,80}$/, 'Use 8 to 80 letters, digits, - and _.'),
          result: resultSchema,
          reason: proseSchema.default('').describe('“correction” and “not_applicable” need one.'),
          location: proseSchema.default('').describe('Where: “left end”. At most 200 characters.'),
          at: timeSchema.optional().describe('When it was found, where that was earlier.'),
        }),
        answer: placedFindingSchema,
      },
      async ({ actor: acting, params: { visitId }, body: { at, ...said } }) => {
        const actor = acting();
        if (at !== undefined) {
          const visit = await deps.prisma.visit.findFirst({
            where: { id: visitId, projectId: actor.projectId },
            select: { openedAt: true },
          });
          if (visit !== null && new Date(at) < visit.openedAt) {
            const detail = 'That is before its visit was opened.';
            throw new WrongFields([{ pointer: '#/at', detail }]);
          }
        }
        try {
          const { findingId, repeated } = await recordFinding(deps, actor, {
            visitId,
            ...said,
            ...(at === undefined ? {} : { at: new Date(at) }),
            files: [],
          });
          const location = `/projects/${actor.projectId}/visits/${visitId}`;
          return { body: { findingId, repeated }, location };
        } catch (error) {
          if (!(error instanceof Invalid)) throw error;
          // The page of a visit names its boxes by check: 'reason.<check>'.
          const errors = Object.entries(error.fields).map(([name, detail]) => ({
            pointer: pointerTo([name.split('.')[0] ?? '']),
            detail,
          }));
          throw new WrongFields(errors);
        }
      },
    ),
  ];
}
