import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import { Conflict, Invalid, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { asMember } from '../use-case.ts';
import { applyRows, type RowWish } from './apply.ts';
import { planImport } from './import.ts';
import { appliedWords, comparedWords } from './proposal-routes.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { openingHead, rowsThere } from './store.ts';
import { knownId } from '../identifier.ts';
import { readTextUpload } from './upload.ts';

interface OpeningPath {
  Params: { openingId: string };
}

/** A schedule that comes back as a file: read whole, shown, confirmed, then kept in one go. */
export async function importRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const address = '/projects/:projectId/openings/:openingId/schedule/import';

  /** The rows that are there now and the file held against them. */
  async function plan(actor: Actor, openingId: string, text: string | null) {
    const id = knownId(openingId, 'That opening');
    return asMember(deps, actor, 'schedule.import', async (tx, { projectId }) => {
      const opening = await openingHead(tx, { projectId }, id);
      const there = await rowsThere(tx, deps.kinds, projectId, id);
      const [criteria] = (await newestContents(tx, projectId, id, ['criteria'])).get('criteria') ?? [];
      if (criteria === undefined) {
        throw new Refused('Enter the project’s design criteria first: every row is judged by them.');
      }
      const { editions } = criteria as Criteria;
      return { opening, plan: text === null ? null : planImport(text, there, editions) };
    });
  }

  async function page(
    reply: FastifyReply,
    actor: Actor,
    openingId: string,
    text: string | null,
    errors: Readonly<Record<string, string>> = {},
    reason = '',
  ) {
    const { opening, plan: planned } = await plan(actor, openingId, text);
    return reply.page('schedule/import.njk', {
      opening,
      text: text ?? '',
      reason,
      errors: planned?.errors ?? [],
      rows: planned?.rows.map(comparedWords) ?? [],
      missing: planned?.missing ?? [],
      unchanged: planned?.rows.flatMap((one) => (one.is === 'same' ? [one.there.key] : [])) ?? [],
      changing: planned?.rows.filter((one) => one.is !== 'same').length ?? 0,
      planned: planned !== null && planned.errors.length === 0,
      form: { values: { text: text ?? '', _reason: reason }, errors },
    });
  }

  app.get<OpeningPath>(address, { config: { access: 'schedule.import' } }, async (request, reply) => {
    const kept = await reply.takeKept();
    const { text = null, _reason = '' } = kept?.fields ?? {};
    return page(reply, actorOf(request), request.params.openingId, text, {}, _reason);
  });

  /** Reads and shows; keeps nothing. */
  app.post<OpeningPath>(
    address,
    { config: { access: 'schedule.import', csrfInStream: true } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      // The opening first: a stranger's file is not read.
      await plan(actor, openingId, null);
      let text: string;
      try {
        ({ text } = await readTextUpload(app, request, reply));
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        return page(reply.status(422), actor, openingId, null, { file: error.message });
      }
      if (text.trim() === '') {
        return page(reply.status(422), actor, openingId, null, { file: 'Choose a file or paste its text.' });
      }
      const { plan: planned } = await plan(actor, openingId, text);
      return page(reply.status((planned?.errors.length ?? 0) > 0 ? 422 : 200), actor, openingId, text);
    },
  );

  /** Keeps what was shown, or shows again what moved meanwhile. */
  app.post<OpeningPath>(
    `${address}/confirmation`,
    {
      config: {
        access: 'schedule.import',
        keepForm: ({ projectId = '', openingId = '' }) =>
          `/projects/${projectId}/openings/${openingId}/schedule/import`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const { text = '', _reason: reason = '' } = typed;
      const { opening, plan: planned } = await plan(actor, openingId, text);
      if (planned === null || planned.errors.length > 0) {
        return page(reply.status(422), actor, openingId, text, {}, reason);
      }
      const changing = planned.rows.filter((one) => one.is !== 'same');
      const moved = changing.map(comparedWords).filter((one) => typed[`shown.${one.id}`] !== one.digest);
      if (moved.length > 0) {
        const names = moved.map((one) => one.key ?? one.id).join(', ');
        const sentence = `Changed meanwhile: ${names}. Nothing was kept. Below the file is held against the rows as they stand now.`;
        return page(reply.status(409), actor, openingId, text, { '': sentence }, reason);
      }
      const wishes: RowWish[] = changing.map((one) => ({
        row: one.row,
        onto: one.is === 'differs' ? { itemId: one.there.itemId, expectedNumber: one.there.number } : null,
      }));
      try {
        const { created, revised } = await applyRows(deps, actor, 'schedule.import', {
          openingId,
          wishes,
          reason,
        });
        reply.flash(appliedWords(created, revised));
        return await reply.redirect(
          `/projects/${actor.projectId}/openings/${opening.openingId}/schedule`,
          303,
        );
      } catch (error) {
        if (error instanceof Invalid || error instanceof Refused) {
          return page(reply.status(422), actor, openingId, text, { '': error.message }, reason);
        }
        if (error instanceof Conflict) {
          return page(reply.status(409), actor, openingId, text, { '': error.message }, reason);
        }
        throw error;
      }
    },
  );
}
