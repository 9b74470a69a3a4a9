import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { dayOf } from '../../house-time.ts';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, Invalid, NotFound } from '../../problems.ts';
import { backTo } from '../../record/marks/routes.ts';
import type { Deps } from '../../web/deps.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { dayWords } from './day.ts';
import { readSequenceFacts } from './facts.ts';
import type { SequenceChange, StepChange } from './plan.ts';
import { logWork, OutOfOrder, planSequence, takeWorkBack } from './service.ts';
import { stepView, timelineOf, wallDownAnswer } from './show.ts';
import { stepStandings } from './standing.ts';
import { lastMoves } from './store.ts';

interface OpeningPath {
  Params: { openingId: string };
}
interface StepPath {
  Params: { openingId: string; stepKey: string };
}

type Params = Readonly<Record<string, string>>;
const pageOfSequence = ({ projectId = '', openingId = '' }: Params) =>
  `/projects/${projectId}/openings/${openingId}/sequence`;
const pageOfStep = (params: Params) =>
  `${pageOfSequence(params)}/steps/${encodeURIComponent(params.stepKey ?? '')}`;

/** The order of work of an opening: where it stands, what is planned, what was done, and whether the wall may come out. */
export async function sequenceRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const { prisma, kinds, clock } = deps;

  async function read({ projectId }: Actor, id: string) {
    const openingId = idOr404(id);
    const facts = await readSequenceFacts(prisma, kinds, projectId, openingId);
    return { facts, moves: await lastMoves(prisma, openingId) };
  }

  async function list(actor: Actor, reply: FastifyReply, id: string) {
    const { facts, moves } = await read(actor, id);
    const standings = stepStandings(facts);
    return reply.page('site/sequence/list.njk', {
      opening: { id: facts.openingId, name: facts.openingName },
      steps: standings.map((standing) => stepView(standing, moves, facts.timeZone)),
      picture: timelineOf(standings, clock(), facts.timeZone),
      wallDown: wallDownAnswer(facts),
      flagged: facts.entries.filter(
        ({ outOfOrder, withdrawal }) => outOfOrder.length > 0 && withdrawal === null,
      ),
      entries: facts.entries.map((entry) => ({ ...entry, doneWords: dayWords(entry.doneOn) })).reverse(),
      may: { plan: roleMay(actor.role, 'sequence.plan'), log: roleMay(actor.role, 'work.log') },
    });
  }

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/sequence',
    { config: { access: 'sequence.read' } },
    async (request, reply) => list(actorOf(request), reply, request.params.openingId),
  );

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/wall-down',
    { config: { access: 'sequence.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { facts } = await read(actor, request.params.openingId);
      return reply.page('site/sequence/wall-down.njk', {
        opening: { id: facts.openingId, name: facts.openingName },
        wallDown: wallDownAnswer(facts),
        todayWords: dayWords(dayOf(clock(), facts.timeZone)),
        may: { log: roleMay(actor.role, 'work.log') },
      });
    },
  );

  async function planPage(actor: Actor, reply: FastifyReply, id: string, form?: FormState) {
    const { facts, moves } = await read(actor, id);
    const steps = stepStandings(facts).map((standing) => stepView(standing, moves, facts.timeZone));
    const kept = Object.fromEntries(
      steps.flatMap(({ key, planned }) => [
        [`plannedOn.${key}`, planned.plannedOn],
        [`who.${key}`, planned.who],
        [`notice.${key}`, planned.notice],
        [`off.${key}`, planned.off ? 'yes' : ''],
      ]),
    );
    return reply.page('site/sequence/plan.njk', {
      opening: { id: facts.openingId, name: facts.openingName },
      planNumber: facts.planNumber,
      steps,
      after: steps.map(({ key, title }) => ({ value: key, text: title })),
      canWait: [
        { value: '', text: 'nothing' },
        ...steps
          .filter(({ logged, own }) => logged && !own)
          .map(({ key, title }) => ({ value: key, text: title })),
      ],
      form: { values: { ...kept, ...form?.values }, errors: form?.errors ?? {} },
    });
  }

  app.get<OpeningPath>(
    '/projects/:projectId/openings/:openingId/sequence/plan',
    { config: { access: 'sequence.plan' } },
    async (request, reply) => planPage(actorOf(request), reply, request.params.openingId),
  );

  app.post<OpeningPath>(
    '/projects/:projectId/openings/:openingId/sequence/plan',
    { config: { access: 'sequence.plan', keepForm: (params) => `${pageOfSequence(params)}/plan` } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const again = (status: number, errors: Readonly<Record<string, string>>) =>
        planPage(actor, reply.status(status), openingId, { values: typed, errors });
      const change = changeOf(typed);
      try {
        await planSequence(deps, actor, {
          openingId,
          expectedNumber: Number(typed.expectedNumber),
          change,
        });
      } catch (error) {
        if (error instanceof Invalid) return again(422, error.fields);
        if (error instanceof Conflict) return again(409, { '': error.message });
        throw error;
      }
      reply.flash('The order of work is planned.');
      const back = `/projects/${actor.projectId}/openings/${idOr404(openingId)}/sequence`;
      return reply.redirect(change.is === 'add' ? `${back}/plan` : back, 303);
    },
  );

  async function stepPage(
    actor: Actor,
    reply: FastifyReply,
    { openingId: id, stepKey }: StepPath['Params'],
    shown: { readonly form?: FormState; readonly against?: readonly string[] } = {},
  ) {
    const { facts, moves } = await read(actor, id);
    const standing = stepStandings(facts).find(({ step }) => step.key === stepKey);
    if (standing === undefined || standing.step.from === 'record') throw new NotFound('That step');
    const entries = facts.entries.filter(({ step }) => step === stepKey).reverse();
    const photos = await attachmentsOf(
      prisma,
      actor.projectId,
      actor.role,
      'work_entry',
      entries.map(({ workEntryId }) => workEntryId),
    );
    const today = dayOf(clock(), facts.timeZone);
    return reply.page('site/sequence/step.njk', {
      opening: { id: facts.openingId, name: facts.openingName },
      step: stepView(standing, moves, facts.timeZone),
      entries: entries.map((entry) => ({
        ...entry,
        doneWords: dayWords(entry.doneOn),
        photos: photos.filter(({ subjectId }) => subjectId === entry.workEntryId),
      })),
      against: shown.against ?? [],
      may: {
        log: roleMay(actor.role, 'work.log'),
        add: roleMay(actor.role, 'attachment.add'),
        share: roleMay(actor.role, 'attachment.share'),
      },
      today,
      form: { values: { doneOn: today, ...shown.form?.values }, errors: shown.form?.errors ?? {} },
    });
  }

  app.get<StepPath>(
    '/projects/:projectId/openings/:openingId/sequence/steps/:stepKey',
    { config: { access: 'sequence.read' } },
    async (request, reply) => stepPage(actorOf(request), reply, request.params),
  );

  app.post<StepPath>(
    '/projects/:projectId/openings/:openingId/sequence/steps/:stepKey',
    { config: { access: 'work.log', keepForm: pageOfStep } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId, stepKey } = request.params;
      const typed = typedFrom(request.body);
      const { doneOn = '', who = '', note = '', allTheSame = '' } = typed;
      try {
        const said = { openingId, step: stepKey, doneOn, who, note, allTheSame: allTheSame === 'yes' };
        const { flagged } = await logWork(deps, actor, said);
        reply.flash(flagged ? 'Logged, and flagged as out of order.' : 'Logged.');
      } catch (error) {
        if (error instanceof OutOfOrder) {
          const errors = { allTheSame: 'Tick this if it was done all the same.' };
          const form = { values: typed, errors };
          return stepPage(actor, reply.status(422), request.params, { form, against: error.reasons });
        }
        if (!(error instanceof Invalid)) throw error;
        return stepPage(actor, reply.status(422), request.params, {
          form: { values: typed, errors: error.fields },
        });
      }
      const back = `/projects/${actor.projectId}/openings/${idOr404(openingId)}/sequence/steps/${encodeURIComponent(stepKey)}`;
      return reply.redirect(back, 303);
    },
  );

  app.post<{ Params: { workEntryId: string } }>(
    '/projects/:projectId/work-entries/:workEntryId/withdrawal',
    {
      config: {
        access: 'work.log',
        keepForm: ({ projectId = '' }, { back }) => backTo(projectId, back),
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { workEntryId } = request.params;
      const suffix = `reason.${workEntryId}`;
      const reason = typedFrom(request.body)[suffix] ?? '';
      const within = `/projects/${actor.projectId}/openings`;
      try {
        const { openingId, step } = await takeWorkBack(deps, actor, { workEntryId, reason });
        reply.flash('The entry is taken back; it stays readable.');
        return await reply.redirect(`${within}/${openingId}/sequence/steps/${encodeURIComponent(step)}`, 303);
      } catch (error) {
        if (!(error instanceof Invalid)) throw error;
        const entry = await prisma.workEntry.findFirst({
          where: { id: idOr404(workEntryId), projectId: actor.projectId },
          select: { openingId: true, step: true },
        });
        if (entry === null) throw new NotFound('That entry');
        const form = {
          values: { [suffix]: reason },
          errors: { [suffix]: error.fields.reason ?? '' },
        };
        return stepPage(
          actor,
          reply.status(422),
          { openingId: entry.openingId, stepKey: entry.step },
          { form },
        );
      }
    },
  );
}

/** What the pressed button asks for: a step of one's own, or the days of all steps. */
function changeOf(typed: Typed): SequenceChange {
  if (typed.do === 'add') {
    const { title = '', after = '', heldStep = '' } = typed;
    return { is: 'add', key: `own-${randomUUID()}`, title, after, heldStep };
  }
  const steps: Record<string, StepChange> = {};
  for (const name of Object.keys(typed)) {
    if (!name.startsWith('plannedOn.')) continue;
    const key = name.slice('plannedOn.'.length);
    steps[key] = {
      plannedOn: typed[name] ?? '',
      who: typed[`who.${key}`] ?? '',
      notice: typed[`notice.${key}`] ?? '',
      off: typed[`off.${key}`] === 'yes',
    };
  }
  return { is: 'plan', steps, reason: typed.reason ?? '' };
}
