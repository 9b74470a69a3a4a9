import type { FastifyInstance } from 'fastify';
import { Invalid } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { previewView } from '../pages/preview-view.ts';
import { resultWords } from '../schedule/document.ts';
import { judgeItemForm, openingFor, specFor } from './item-form.ts';

/** Kinds whose form shows what it comes to while it is typed; the others have nothing to compute or draw. */
const live: ReadonlySet<ItemKind> = new Set([
  'survey',
  'beam',
  'support',
  'footing',
  'hanger',
  'fastening',
  'shoring',
]);

export function isLive(kind: ItemKind): boolean {
  return live.has(kind);
}

/** A piece of a page for the script of an item's form. Reads and computes; decides nothing, keeps nothing. */
export async function liveRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.post<{ Params: { openingId: string }; Querystring: { kind?: string } }>(
    '/projects/:projectId/openings/:openingId/preview',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const kind = (request.query.kind ?? '') as ItemKind;
      const openingId = await openingFor(deps, actor, kind, request.params.openingId);
      const typed = typedFrom(request.body);
      const judged = judgeItemForm(deps, kind, await specFor(deps, actor, { kind, openingId }), typed);
      reply.type('text/html; charset=utf-8').header('cache-control', 'no-store');
      const incomplete = (errors: Readonly<Record<string, string>>) =>
        reply.viewAsync('record/live.njk', { problems: Object.values(errors) });
      if (!judged.ok) return incomplete(judged.form.errors);
      const { content } = judged;
      try {
        const item = { itemId: null, openingId, kind, key: '', title: deps.kinds.get(kind).title };
        const { made, calculation, pictures } = await previewView(deps, actor, item, content);
        const result = kind === 'fastening' ? resultWords(made) : null;
        return await reply.viewAsync('record/live.njk', { problems: [], result, calculation, pictures });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return incomplete(error.fields);
      }
    },
  );
}
