import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam } from '../../engineering/proposal/design.ts';
import { searchBeams, type Candidate } from '../../engineering/proposal/search/search-beams.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { saveDraft } from '../drafts/service.ts';
import { memberWords } from '../kinds/beam/kind.ts';
import { findOpening } from '../openings/find.ts';
import { readGroundsOf } from '../versions/preview.ts';
import { priceBoxes, priceForm, readPriceBoxes } from './price-boxes.ts';
import { keepPrices, pricesOf } from './prices.ts';
import { kinds, QUESTION_BOXES, readQuestion, usual } from './question.ts';
import { checkWords, missedWords } from './words.ts';

const SHOWN = 20;

interface OpeningPath {
  Params: { openingId: string };
}

/** The search that is asked again by these boxes. */
function searchPage(projectId: string, openingId: string, typed: Typed): string {
  const query = new URLSearchParams();
  for (const name of QUESTION_BOXES) {
    const value = typed[name];
    if (value !== undefined) query.set(name, value);
  }
  return `/projects/${projectId}/openings/${openingId}/candidates?${query.toString()}`;
}

export async function candidateRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  /** The page for a question; `priced` are price boxes that are not kept yet, with their sentences where refused. */
  async function page(
    request: FastifyRequest<OpeningPath>,
    reply: FastifyReply,
    typed: Typed,
    priced?: FormState,
  ) {
    const actor = actorOf(request);
    const opening = await findOpening(deps.prisma, actor, request.params.openingId);
    const grounds = await readGroundsOf(deps, actor, opening.id);
    const criteria = grounds.get('criteria') as Criteria | undefined;
    const survey = grounds.get('survey') as Survey | undefined;
    if (criteria === undefined || survey === undefined) {
      throw new Refused(
        'Enter the criteria and the survey first: candidates are judged by what bears on the wall.',
      );
    }
    const there = grounds.get('beam') as Beam | undefined;
    const { member: _member, ...rest } = there ?? { ...usual, member: null };
    const { values, errors, asked } = readQuestion(typed, rest, survey);
    const data = { opening, kinds, form: { values, errors } };
    if (Object.keys(errors).length > 0) return reply.page('record/candidates.njk', { ...data, found: null });
    const prices = await pricesOf(deps, actor);
    try {
      const found = searchBeams({
        survey,
        criteria,
        beam: asked.beam,
        kinds: asked.kinds,
        pricePerFoot: prices,
        ...(asked.depthIn === null ? {} : { depthAvailableIn: asked.depthIn }),
      });
      const ranked = found.ranked.slice(0, SHOWN);
      return await reply
        .status(Object.keys(priced?.errors ?? {}).length === 0 ? 200 : 422)
        .page('record/candidates.njk', {
          ...data,
          question: QUESTION_BOXES.map((name) => ({ name, value: values[name] ?? '' })),
          priceForm: priced ?? priceBoxes(ranked, prices),
          found: {
            ...found,
            total: found.ranked.length,
            ranked: ranked.map((one) => shown(one, asked.beam)),
            nearMisses: found.nearMisses.slice(0, SHOWN).map((one) => shown(one, asked.beam)),
          },
        });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const refused = { values, errors: { '': error.message } };
      return reply.status(422).page('record/candidates.njk', { ...data, form: refused, found: null });
    }
  }

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/candidates',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const kept = await reply.takeKept();
      const priced = kept === null ? undefined : priceForm(readPriceBoxes(kept.fields), {});
      return page(request, reply, typedFrom(request.query), priced);
    },
  );

  /** The person’s own price list: what was typed beside each piece, then the same search by it. */
  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/candidates/prices',
    {
      config: {
        access: 'item.create',
        keepForm: ({ projectId = '', openingId = '' }, typed) => searchPage(projectId, openingId, typed),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const boxes = readPriceBoxes(typed);
      const opening = await findOpening(deps.prisma, actor, request.params.openingId);
      try {
        await keepPrices(deps, actor, boxes);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        return page(request, reply, typed, priceForm(boxes, error.fields));
      }
      reply.flash('Your prices are kept. Only you see them.');
      return reply.redirect(searchPage(actor.projectId, opening.id, typed), 303);
    },
  );

  /** Takes a candidate into the beam's form: as a draft on the beam that is there, or into the form of a new one. */
  app.post<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/candidates',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { projectId } = actor;
      const openingId = idOr404(request.params.openingId);
      const typed = typedFrom(request.body);
      const form = deps.forms.get('beam');
      const parsed = deps.kinds.get('beam').schema.safeParse(readJson(typed.beam ?? ''));
      if (form === undefined || !parsed.success) throw new NotFound('That candidate');
      const boxes = fillForm(form.spec, parsed.data);
      const item = await deps.prisma.item.findFirst({
        where: { projectId, openingId, kind: 'beam' },
        include: { versions: { orderBy: { number: 'desc' }, take: 1, select: { number: true } } },
      });
      if (item !== null) {
        await saveDraft(deps, actor, {
          itemId: item.id,
          onNumber: item.versions[0]?.number ?? 0,
          body: boxes,
        });
        return reply.redirect(`/projects/${projectId}/items/${item.id}/edit`, 303);
      }
      const query = new URLSearchParams({ kind: 'beam', opening: openingId, fill: JSON.stringify(boxes) });
      return reply.redirect(`/projects/${projectId}/items/new?${query.toString()}`, 303);
    },
  );
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

function shown(candidate: Candidate, beam: Omit<Beam, 'member'>) {
  return {
    ...candidate,
    words: memberWords(candidate.member),
    price: candidate.pricePerFoot?.toFixed(2) ?? '',
    beamJson: JSON.stringify({ ...beam, member: candidate.member }),
    governedBy: checkWords(candidate.governing),
    why: missedWords(candidate),
  };
}
