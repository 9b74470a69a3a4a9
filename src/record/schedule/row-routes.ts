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
import { NotFound, Refused } from '../../problems.ts';
import { ratioText } from '../../web/check-view.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { canonicalJson } from '../canonical.ts';
import { loadDraft, saveDraft } from '../drafts/service.ts';
import { fasteningForm } from '../kinds/fastening/form.ts';
import { asMember } from '../use-case.ts';
import { readItem } from '../versions/read.ts';
import { resultWords } from './document.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { ownKinds, OWN_ENTRIES, readTruck, truckAddress, truckList } from './truck.ts';

interface ItemPath {
  Params: { itemId: string };
}

/** What else would do in the place of a row. */
export async function rowRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
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
