import type { FastifyInstance } from 'fastify';
import { fastenerLabel, patternText } from '../../engineering/fasteners/index.ts';
import { formatQuantity } from '../../engineering/trace/index.ts';
import { Conflict, Invalid, Refused } from '../../problems.ts';
import { ratioText } from '../../web/check-view.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { noticeView } from '../../web/notice-view.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { changeLine } from '../diff/versions.ts';
import { nextLink } from '../openings/next-after-saving.ts';
import { applyRows, type RowWish } from './apply.ts';
import { digestOf, titleOfRow, type Compared } from './compare.ts';
import { readProposal, type ProposedRow } from './propose.ts';

interface OpeningPath {
  Params: { openingId: string };
}

/** A proposed row as the page lists it. */
function shown({ compared, judgement }: ProposedRow) {
  const { row } = compared;
  const check = judgement.governing;
  return {
    ...comparedWords(compared),
    fastener: fastenerLabel(row.fastener),
    pattern: patternText(row),
    source: row.demand.source,
    demand: formatQuantity(judgement.demand),
    capacity: formatQuantity(judgement.capacity),
    ratio: ratioText(judgement.ratio, check?.passes ?? true),
    passes: judgement.passes,
    check: check?.title ?? '',
    sentence: judgement.passes ? '' : (check?.sentence ?? ''),
    note: row.note,
  };
}

/** What taking a row over would do, in words; shared by proposals and files. */
export function comparedWords(compared: Compared) {
  const { row, is } = compared;
  return {
    is,
    digest: digestOf(compared),
    id: row.id,
    title: titleOfRow(row),
    where: row.where,
    key: is === 'new' ? null : compared.there.key,
    itemId: is === 'new' ? null : compared.there.itemId,
    number: is === 'new' ? 0 : compared.there.number,
    changes:
      is === 'differs'
        ? compared.changes.map(({ heading, was, now }) =>
            changeLine(heading, was === '' ? null : was, now === '' ? null : now),
          )
        : [],
    sameJoint: is === 'new' ? compared.sameJoint.map((one) => one.key) : [],
  };
}

/** 'N1 to N17' where they follow one another, else each of them. */
export function keyWords(keys: readonly string[]): string {
  const numbers = keys.map((key) => Number(/^N(\d+)$/.exec(key)?.[1] ?? Number.NaN));
  const inARow = numbers.every((number, index) => number === (numbers[0] ?? 0) + index);
  return inARow && keys.length > 2 ? `${keys[0] ?? ''} to ${keys.at(-1) ?? ''}` : keys.join(', ');
}

/** '3 new rows (N7 to N9), 1 new version (N4) kept.' */
export function appliedWords(created: readonly string[], revised: readonly string[]): string {
  const part = (keys: readonly string[], one: string) =>
    keys.length === 0 ? [] : [`${keys.length} ${keys.length === 1 ? one : `${one}s`} (${keyWords(keys)})`];
  return `${[...part(created, 'new row'), ...part(revised, 'new version')].join(', ')} kept.`;
}

/** Rows proposed from the design, chosen one by one, kept in one go. */
export async function proposalRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const address = '/projects/:projectId/openings/:openingId/schedule/proposal';

  app.get<OpeningPath>(address, { config: { access: 'schedule.propose' } }, async (request, reply) => {
    const actor = actorOf(request);
    const { openingId } = request.params;
    const { opening, rows, notices, others } = await readProposal(deps, actor, { openingId });
    const form = { values: {}, errors: {} };
    return reply.page('schedule/proposal.njk', {
      opening,
      rows: rows.map(shown),
      remarks: notices.map(noticeView),
      others,
      form,
    });
  });

  const proposalPage = ({ projectId = '', openingId = '' }) =>
    `/projects/${projectId}/openings/${openingId}/schedule/proposal`;
  const proposing = { access: 'schedule.propose', keepForm: proposalPage } as const;
  app.post<OpeningPath>(address, { config: proposing }, async (request, reply) => {
    const actor = actorOf(request);
    const { openingId } = request.params;
    const typed = typedFrom(request.body);
    const proposal = await readProposal(deps, actor, { openingId });
    const page = (status: number, errors: Readonly<Record<string, string>>) =>
      reply.status(status).page('schedule/proposal.njk', {
        opening: proposal.opening,
        rows: proposal.rows.map(shown),
        remarks: proposal.notices.map(noticeView),
        others: proposal.others,
        form: { values: typed, errors },
      });
    // What was shown has to be what is kept: the digest of each row comes back with the tick.
    const wishes: RowWish[] = [];
    for (const { compared } of proposal.rows) {
      const { row } = compared;
      if (typed[`take.${row.id}`] !== 'yes') continue;
      if (typed[`shown.${row.id}`] !== digestOf(compared)) {
        return page(409, {
          '': `The design or the row moved since this page was shown: look at ${titleOfRow(row)} again. Nothing was kept.`,
        });
      }
      if (compared.is === 'new') wishes.push({ row, onto: null });
      if (compared.is === 'differs') {
        const { itemId, number } = compared.there;
        wishes.push({ row, onto: { itemId, expectedNumber: number } });
      }
    }
    try {
      const { created, revised } = await applyRows(deps, actor, 'schedule.propose', {
        openingId,
        wishes,
        reason: typed._reason ?? '',
      });
      reply.flash(appliedWords(created, revised), await nextLink(deps, actor, openingId));
      return await reply.redirect(
        `/projects/${actor.projectId}/openings/${proposal.opening.openingId}/schedule`,
        303,
      );
    } catch (error) {
      if (error instanceof Invalid || error instanceof Refused) return page(422, { '': error.message });
      if (error instanceof Conflict) return page(409, { '': error.message });
      throw error;
    }
  });
}
