import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { diffVersions } from '../diff/versions.ts';
import { listed } from '../prose.ts';
import { refusalWords, type MarkOutcome, type MarkRefusal } from './judge.ts';
import { markReviewed, type Choice, type Reviewed } from './review-marks.ts';
import { readReview } from './review.ts';

interface OpeningPath {
  Params: { openingId: string };
}

const shownForm = /^([0-9a-f-]{36})\|([0-9a-f]{64})\|(\d{1,6})$/;

/** A choice with the item under whose name it stood in the form. */
interface TypedChoice extends Choice {
  readonly itemId: string;
}

/**
 * Boxes are named by the item, so that what was typed finds its place again when a newer version stands there:
 * 'shown.<item>' holds the version, its hash and its number of marks as they were shown, 'word.<item>' and
 * 'reason.<item>' what is said. Items without a word are left alone.
 */
export function typedChoices(typed: Typed): TypedChoice[] {
  return Object.entries(typed).flatMap(([name, value]): TypedChoice[] => {
    const shown = shownForm.exec(value);
    if (!name.startsWith('shown.') || shown === null) return [];
    const itemId = name.slice(6);
    const word = typed[`word.${itemId}`];
    if (word !== 'approved' && word !== 'returned') return [];
    const [, versionId = '', hash = '', marks] = shown;
    const reason = typed[`reason.${itemId}`] ?? '';
    return [{ itemId, versionId, hash, expectedMarkNumber: Number(marks), word, reason }];
  });
}

function reviewPage({ projectId = '', openingId = '' }, { after = '' }: Typed): string {
  const page = `/projects/${projectId}/openings/${openingId}/review`;
  return after === '' ? page : `${page}?${new URLSearchParams({ after }).toString()}`;
}

/** The engineer's review: all that waits in an opening, each item whole, and a word on each in one form. */
export async function reviewRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  async function page(
    actor: Actor,
    reply: FastifyReply,
    input: { openingId: string; after?: string },
    state: {
      form?: FormState;
      marked?: readonly MarkOutcome[];
      refused?: readonly MarkRefusal[];
    } = {},
  ) {
    const review = await readReview(deps, actor, input);
    const { form = null, marked = [], refused = [] } = state;
    const side = (one: MarkRefusal) => ({
      ...one,
      sentence: refusalWords(one),
      seenLines: deps.kinds.get(one.item.kind).describe(one.seen.content),
      newestLines: deps.kinds.get(one.item.kind).describe(one.newest.content),
      diff: diffVersions(deps.kinds, one.item.kind, one.seen, one.newest),
    });
    const here = new Set(review.items.map(({ standing }) => standing.facts.itemId));
    return reply.page('record/review.njk', {
      ...review,
      strays: form === null ? [] : await straysOf(actor, form.values, here, refused),
      form,
      after: input.after ?? '',
      said: saidWords(marked),
      moved: Object.fromEntries(refused.map((one) => [one.item.itemId, side(one)])),
      gone: refused.filter(({ item }) => !here.has(item.itemId)).map(side),
    });
  }

  /** What was typed on items that no longer wait and that nothing else on the page tells of. */
  async function straysOf(
    { projectId }: Actor,
    typed: Typed,
    here: ReadonlySet<string>,
    refused: readonly MarkRefusal[],
  ) {
    const told = new Set([...here, ...refused.map(({ item }) => item.itemId)]);
    const words = Object.entries(typed).flatMap(([name, reason]) => {
      const itemId = /^reason\.([0-9a-f-]{36})$/.exec(name)?.[1];
      if (itemId === undefined || reason.trim() === '' || told.has(itemId)) return [];
      return [{ itemId, word: typed[`word.${itemId}`] ?? '', reason }];
    });
    if (words.length === 0) return [];
    const items = await deps.prisma.item.findMany({
      where: { projectId, id: { in: words.map(({ itemId }) => idOr404(itemId)) } },
      select: { id: true, title: true },
    });
    return words.flatMap((one) => {
      const title = items.find(({ id }) => id === one.itemId)?.title;
      return title === undefined ? [] : [{ ...one, title }];
    });
  }

  app.get<OpeningPath & { Querystring: { after?: string } }>(
    '/projects/:projectId/openings/:openingId/review',
    { config: { access: 'mark.create' } },
    async (request, reply) => {
      const { openingId } = request.params;
      const { after } = request.query;
      const kept = await reply.takeKept();
      const input = { openingId, ...(after === undefined ? {} : { after }) };
      const form = kept === null ? {} : { form: { values: kept.fields, errors: {} } };
      return page(actorOf(request), reply, input, form);
    },
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/review',
    { config: { access: 'mark.create', keepForm: reviewPage } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const { after = '' } = typed;
      const input = { openingId, ...(after === '' ? {} : { after }) };
      const choices = typedChoices(typed);
      if (choices.length === 0) {
        const errors = { '': 'Nothing was chosen: choose a word on at least one item.' };
        return page(actor, reply.status(422), input, { form: { values: typed, errors } });
      }
      const reviewed = await markReviewed(deps, actor, choices);
      const { outcomes: marked, refused, barred } = reviewed;
      if (refused.length === 0 && barred.length === 0) {
        reply.flash(saidWords(marked));
        return reply.redirect(`/projects/${actor.projectId}/openings/${openingId}/review`, 303);
      }
      const form = formAgain(typed, choices, reviewed);
      return page(actor, reply.status(refused.length > 0 ? 409 : 422), input, { form, marked, refused });
    },
  );
}

/**
 * The form as it comes back: the reasons stand as typed. A word on what moved has to be chosen anew, once the new
 * version was looked at; what was marked is done with.
 */
function formAgain(typed: Typed, choices: readonly TypedChoice[], reviewed: Reviewed): FormState {
  const values: Record<string, string> = { ...typed };
  const errors: Record<string, string> = {};
  const itemOf = new Map(choices.map((choice) => [choice.versionId, choice.itemId]));
  for (const refusal of reviewed.refused) {
    const { itemId } = refusal.item;
    values[`word.${itemId}`] = '';
    errors[`word.${itemId}`] = `Not marked: ${refusalWords(refusal)}.`;
  }
  for (const { versionId, sentence } of reviewed.barred) {
    errors[`reason.${itemOf.get(versionId) ?? ''}`] = sentence;
  }
  for (const { item } of reviewed.outcomes) {
    for (const name of ['word', 'reason'] as const) Reflect.deleteProperty(values, `${name}.${item.itemId}`);
  }
  return { values, errors };
}

/** 'Approved: Beam, Row N1. Returned: Left support.' */
function saidWords(marked: readonly MarkOutcome[]): string {
  const sentence = (start: string, word: string) => {
    const titles = marked.filter((one) => one.word === word).map(({ item }) => item.title);
    if (titles.length === 0) return [];
    return [`${start}: ${titles.length > LISTED ? `${titles.length} items` : listed(titles)}.`];
  };
  return [...sentence('Approved', 'approved'), ...sentence('Returned', 'returned')].join(' ');
}

/** More titles than this are counted. */
const LISTED = 6;
