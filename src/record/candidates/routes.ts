import type { FastifyInstance } from 'fastify';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam } from '../../engineering/proposal/design.ts';
import { searchBeams, type Candidate } from '../../engineering/proposal/search/search-beams.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import { formatInches, parseLength } from '../../engineering/units/index.ts';
import { idOr404 } from '../../people/routes.ts';
import { NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { saveDraft } from '../drafts/service.ts';
import { memberWords } from '../kinds/beam/kind.ts';
import { readGroundsOf } from '../versions/preview.ts';

const SHOWN = 20;
const kinds = ['sawn', 'composite', 'glulam', 'steel'] as const;

/** What is known of the beam before it is chosen: the one that is there, or three jacks under a flush one. */
const usual: Omit<Beam, 'member'> = { placement: 'flush', bearingLeftIn: 4.5, bearingRightIn: 4.5 };

export async function candidateRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { openingId: string }; Querystring: Record<string, unknown> }>(
    '/projects/:projectId/openings/:openingId/candidates',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const opening = await deps.prisma.opening.findFirst({
        where: { id: idOr404(request.params.openingId), projectId: actor.projectId },
      });
      if (opening === null) throw new NotFound('That opening');
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
      const typed = typedFrom(request.query);
      const { values, errors, asked } = readQuestion(typed, rest, survey);
      const form: FormState = { values, errors };
      let found: ReturnType<typeof searchBeams> | null = null;
      if (Object.keys(errors).length === 0) {
        try {
          found = searchBeams({
            survey,
            criteria,
            beam: asked.beam,
            kinds: asked.kinds,
            ...(asked.depthIn === null ? {} : { depthAvailableIn: asked.depthIn }),
          });
        } catch (error) {
          if (!(error instanceof Refusal)) throw error;
          return reply.status(422).page('record/candidates.njk', {
            opening,
            form: { values, errors: { '': error.message } },
            found: null,
            kinds,
          });
        }
      }
      return reply.page('record/candidates.njk', {
        opening,
        form,
        kinds,
        found:
          found === null
            ? null
            : {
                ...found,
                total: found.ranked.length,
                ranked: found.ranked.slice(0, SHOWN).map((one) => shown(one, asked.beam)),
                nearMisses: found.nearMisses.slice(0, SHOWN).map((one) => shown(one, asked.beam)),
              },
      });
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
    beamJson: JSON.stringify({ ...beam, member: candidate.member }),
    why: candidate.failing
      .map(({ check, ratio }) => `${check.split('.').slice(1).join(' ')} ${ratio.toFixed(2)}`)
      .join(', '),
  };
}

interface Question {
  readonly beam: Omit<Beam, 'member'>;
  readonly depthIn: number | null;
  readonly kinds: readonly (typeof kinds)[number][];
}

function readQuestion(
  typed: Readonly<Record<string, string>>,
  start: Omit<Beam, 'member'>,
  survey: Survey,
): { values: Record<string, string>; errors: Record<string, string>; asked: Question } {
  const length = (inches: number) => formatInches(inches, { to: 16 });
  const values: Record<string, string> = {
    placement: typed.placement ?? start.placement,
    bearingLeftIn: typed.bearingLeftIn ?? length(start.bearingLeftIn),
    bearingRightIn: typed.bearingRightIn ?? length(start.bearingRightIn),
    depth: typed.depth ?? (survey.depthAvailableIn === undefined ? '' : length(survey.depthAvailableIn)),
    kind: typed.kind ?? '',
  };
  const errors: Record<string, string> = {};
  const read = (name: string, label: string): number => {
    const reading = parseLength(values[name] ?? '', { bareNumber: 'nothing' });
    if ('inches' in reading && reading.inches > 0) return reading.inches;
    errors[name] = `${label}: ${'problem' in reading ? reading.problem : 'more than zero.'}`;
    return 0;
  };
  const beam = {
    ...start,
    placement: values.placement === 'dropped' ? ('dropped' as const) : ('flush' as const),
    bearingLeftIn: read('bearingLeftIn', 'Bearing left'),
    bearingRightIn: read('bearingRightIn', 'Bearing right'),
  };
  const depthIn = values.depth?.trim() === '' ? null : read('depth', 'Depth available');
  const kind = kinds.find((one) => one === values.kind);
  return { values, errors, asked: { beam, depthIn, kinds: kind === undefined ? kinds : [kind] } };
}
