import { z } from 'zod';
import { NotFound } from '../../problems.ts';
import { loadStatuses } from '../../inspection/load.ts';
import type { CheckStatus } from '../../inspection/status.ts';
import { setForChecklist } from '../../inspection/store.ts';
import { listSets, readSet, type SetView } from '../../record/sets/read.ts';
import type { Deps } from '../../web/deps.ts';
import { operation, type Operation } from '../operation.ts';
import { byNumber, cut, noQuery, openingParams, pageOf, setParams } from '../schemas/common.ts';
import { setLineSchema, setSchema } from '../schemas/record.ts';
import { checklistSchema } from '../schemas/site.ts';
import { findingLine } from './shown-visit.ts';

function setLine({ setId, openingId, number, hash, note, issuedAt, supersededBy, flags }: SetView) {
  return {
    setId,
    openingId,
    number,
    hash,
    note,
    issuedAt: issuedAt.toISOString(),
    supersededBy,
    withdrawn: flags.map((flag) => flag.sentence),
  };
}

function checkLine(status: CheckStatus) {
  const { finding, about = '', source = '' } = status;
  return {
    ...status,
    about: about === '' ? source : about,
    finding: finding === null ? null : findingLine(finding),
  };
}

const inSet = { tag: 'Sets', access: 'set.read', scope: 'read', status: 200 } as const;

/** Approved sets, and the checklist that each produced. */
export function setOperations(deps: Deps): Operation[] {
  return [
    operation(
      {
        ...inSet,
        id: 'listSets',
        method: 'GET',
        path: '/projects/{projectId}/openings/{openingId}/sets',
        summary: 'The approved sets of an opening, newest first',
      },
      { params: openingParams, query: byNumber, body: null, answer: pageOf(setLineSchema, z.int()) },
      async ({ actor, params: { openingId }, query }) => {
        const sets = (await listSets(deps, actor(), { openingId })).map(setLine);
        return { body: cut(sets, (set) => set.number, query, 'down') };
      },
    ),
    operation(
      {
        ...inSet,
        id: 'readSet',
        method: 'GET',
        path: '/projects/{projectId}/sets/{setId}',
        summary: 'One approved set with its frozen content',
      },
      { params: setParams, query: noQuery, body: null, answer: setSchema },
      async ({ actor, params: { setId } }) => {
        const set = await readSet(deps, actor(), { setId });
        return { body: { ...setLine(set), content: frozen(set) } };
      },
    ),
    operation(
      {
        ...inSet,
        id: 'readChecklist',
        method: 'GET',
        path: '/projects/{projectId}/sets/{setId}/checklist',
        summary: 'The checklist of a set as it stands, under the plan of inspections',
        access: 'checklist.read',
      },
      { params: setParams, query: noQuery, body: null, answer: checklistSchema },
      async ({ actor: acting, params: { setId } }) => {
        const actor = acting();
        const { openingId, number } = await readSet(deps, actor, { setId });
        const set = await setForChecklist(deps.prisma, actor.projectId, openingId, number);
        if (set === null) throw new NotFound('That set');
        const statuses = await loadStatuses(deps.prisma, actor, openingId, set);
        const { hash, newestNumber } = set;
        return { body: { setId, number, hash, newestNumber, checks: statuses.map(checkLine) } };
      },
    ),
  ];
}

/** A set's content in the wide form that the description gives it. */
function frozen({ content }: SetView) {
  return { ...content, entries: content.entries.map((entry) => ({ ...entry })) };
}
