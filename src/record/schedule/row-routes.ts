import type { FastifyInstance } from 'fastify';
import {
  fastenerLabel,
  fastenerSchema,
  findSubstitutes,
  patternText,
  type FasteningRow,
  type Substitute,
} from '../../engineering/fasteners/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import { formatQuantity, Refusal } from '../../engineering/trace/index.ts';
import type { Actor } from '../../actor.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { ratioText } from '../../web/check-view.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import { judgeForm } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { canonicalJson } from '../canonical.ts';
import { loadDraft, saveDraft } from '../drafts/service.ts';
import { fasteningForm } from '../kinds/fastening/form.ts';
import { calculationView } from '../pages/calculation-view.ts';
import { picturesOfPreview } from '../pages/pictures.ts';
import { asMember } from '../use-case.ts';
import { previewVersion } from '../versions/preview.ts';
import { readItem } from '../versions/read.ts';
import { resultWords } from './document.ts';
import { newestContents } from './store.ts';
import { ownKinds, OWN_ENTRIES, readTruck, truckAddress, truckList } from './truck.ts';

interface ItemPath {
  Params: { itemId: string };
}

/** One row while it is worked on: recomputed as it is typed, and what else would do in its place. */
export async function rowRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  /** A piece of a page for the script of the row's form. Reads, decides nothing, keeps nothing. */
  app.post<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/schedule/preview',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const judged = judgeForm(fasteningForm.spec, deps.kinds.get('fastening').schema, typed);
      reply.type('text/html; charset=utf-8').header('cache-control', 'no-store');
      if (!judged.ok) {
        return reply.viewAsync('schedule/live.njk', { problems: Object.values(judged.form.errors) });
      }
      const { content } = judged;
      try {
        const item = { itemId: null, openingId, kind: 'fastening', key: 'row', title: 'Row' } as const;
        const calculation = await previewVersion(deps, actor, { item, content });
        return await reply.viewAsync('schedule/live.njk', {
          problems: [],
          result: resultWords(calculation),
          calculation: calculationView(calculation),
          pictures: await picturesOfPreview(deps, actor, openingId, 'fastening', content),
        });
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return reply.viewAsync('schedule/live.njk', { problems: Object.values(error.fields) });
      }
    },
  );

  /** The row as it stands, and the editions by which it is judged now. */
  async function rowOf(actor: Actor, itemId: string) {
    const { item, newest } = await readItem(deps, actor, { itemId });
    const { openingId } = item;
    if (item.kind !== 'fastening' || newest === null || openingId === null) throw new NotFound('That row');
    const { criteria, siblings } = await asMember(deps, actor, 'item.save', async (tx, { projectId }) => ({
      criteria: (await newestContents(tx, projectId, openingId, ['criteria'])).get('criteria')?.[0],
      siblings: await tx.item.findMany({
        where: { projectId, openingId, kind: 'fastening', id: { not: item.itemId } },
        select: { id: true, key: true, title: true },
      }),
    }));
    // N2 before N10.
    siblings.sort((one, other) => one.key.length - other.key.length || (one.key < other.key ? -1 : 1));
    if (criteria === undefined) throw new Refused('Enter the project’s design criteria first.');
    const { editions } = criteria as Criteria;
    return { item, newest, row: newest.content as FasteningRow, editions, siblings };
  }

  app.get<ItemPath & { Querystring: Record<string, unknown> }>(
    '/projects/:projectId/items/:itemId/substitutes',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { item, newest, row, editions, siblings } = await rowOf(actor, request.params.itemId);
      const truck = readTruck(request.query);
      const found = orRefused(() => findSubstitutes(row, truck.fasteners, editions));
      const draft = await loadDraft(deps, actor, { itemId: item.itemId });
      const values = Object.fromEntries(
        truck.own.flatMap((entry, index) =>
          Object.entries(entry).map(([name, text]: [string, string]) => [`own.${index}.${name}`, text]),
        ),
      );
      return reply.page('schedule/substitutes.njk', {
        item,
        newest,
        now: { fastener: fastenerLabel(row.fastener), pattern: patternText(row), where: row.where },
        result: resultWords(newest.calculation),
        list: truckList.map(({ title, labels }) => ({
          title,
          ticked: labels.filter((label) => truck.ticked.has(label)).length,
          fasteners: labels.map((label) => ({ label, ticked: truck.ticked.has(label) })),
        })),
        ownKinds,
        ownEntries: Array.from({ length: OWN_ENTRIES }, (_, index) => index),
        form: { values, errors: truck.errors },
        substitutes: found.map(shown),
        asked: truck.fasteners.length > 0,
        hasDraft: draft !== null,
        siblings,
        truck: truckAddress(truck),
      });
    },
  );

  /** Puts a substitute into the person's draft of the row; nothing is kept as a version by that. */
  app.post<ItemPath>(
    '/projects/:projectId/items/:itemId/substitutes',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { item, newest, row, editions } = await rowOf(actor, request.params.itemId);
      const { fastener: sent = '', number } = typedFrom(request.body);
      if (number !== String(newest.number)) {
        throw new Refused('The row has a newer version than the one shown. Look at the substitutes again.');
      }
      const fastener = fastenerSchema.safeParse(jsonOrNull(sent));
      if (!fastener.success) throw new Refused('That fastener can’t be read. Choose it again.');
      const [substitute] = orRefused(() => findSubstitutes(row, [fastener.data], editions));
      if (substitute === undefined || substitute.outcome === 'none') {
        throw new Refused('That fastener does not do in this row.');
      }
      await saveDraft(deps, actor, {
        itemId: item.itemId,
        onNumber: newest.number,
        body: fillForm(fasteningForm.spec, substitute.row),
      });
      reply.flash('The substitute is in the form. Nothing is kept until you save it.');
      return reply.redirect(`/projects/${actor.projectId}/items/${item.itemId}/edit`, 303);
    },
  );
}

function shown({ fastener, outcome, row, judgement, sentence }: Substitute) {
  return {
    fastener: fastenerLabel(fastener),
    json: canonicalJson(fastener),
    outcome,
    pattern: patternText(row),
    sentence,
    ratio: judgement === undefined ? '' : ratioText(judgement.ratio, judgement.passes),
    demand: judgement === undefined ? '' : formatQuantity(judgement.demand),
    capacity: judgement === undefined ? '' : formatQuantity(judgement.capacity),
  };
}

function jsonOrNull(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

function orRefused<Result>(work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refusal) throw new Refused(error.message);
    throw error;
  }
}
