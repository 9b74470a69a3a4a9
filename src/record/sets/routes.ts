import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { roleMay } from '../../people/permissions.ts';
import { idOr404 } from '../../people/routes.ts';
import { Conflict, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { listPage } from '../../web/list-page.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { calculationView } from '../pages/calculation-view.ts';
import { picturesOfVersion } from '../pages/pictures.ts';
import { withFullStop } from '../prose.ts';
import { cursorText } from '../time-cursor.ts';
import { readVersionInSet } from '../versions/read.ts';
import type { SetContent } from './content.ts';
import { readSet } from './read.ts';
import { issueSet, previewSet } from './service.ts';

/** Items of a set that its page shows at a time, and lines of each of its other lists. */
const ENTRIES = 100;
const LINES = 50;

/** Where the page's own lists go on. */
const pageQuery = z.object({
  entries: cursorText,
  gaps: cursorText,
  changes: cursorText,
  questions: cursorText,
  bases: cursorText,
});

export async function setRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/sets/new',
    { config: { access: 'set.issue' } },
    async (request, reply) => {
      const { openingId } = request.params;
      const preview = await previewSet(deps, actorOf(request), { openingId });
      return reply.page('record/set-new.njk', { ...preview, openingId });
    },
  );

  app.post<{ Params: { openingId: string } }>(
    '/projects/:projectId/openings/:openingId/sets',
    {
      config: {
        access: 'set.issue',
        keepForm: ({ projectId = '', openingId = '' }) =>
          `/projects/${projectId}/openings/${openingId}/sets/new`,
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { openingId } = request.params;
      const typed = typedFrom(request.body);
      const expectedLastNumber = Number(typed.expectedLastNumber);
      if (!Number.isInteger(expectedLastNumber) || expectedLastNumber < 0) throw new NotFound();
      const named = (start: string) => Object.keys(typed).filter((name) => name.startsWith(start));
      const entries = named('entry.').map((name) => {
        const [versionId = '', hash = ''] = (typed[name] ?? '').split('|');
        return { itemId: name.slice(6), versionId, hash };
      });
      const confirmedQuestions = named('question.').map((name) => name.slice(9));
      try {
        const note = typed.note ?? '';
        const issued = await issueSet(deps, actor, {
          openingId,
          expectedLastNumber,
          entries,
          confirmedQuestions,
          note,
        });
        reply.flash(`Approved set ${issued.number} is issued and frozen.`);
        return await reply.redirect(`/projects/${actor.projectId}/sets/${issued.setId}`, 303);
      } catch (error) {
        if (!(error instanceof Refused) && !(error instanceof Conflict)) throw error;
        const preview = await previewSet(deps, actor, { openingId });
        const form = { values: typed, errors: { '': error.message } };
        const status = error instanceof Conflict ? 409 : 422;
        const moved = movedSince(preview.content, expectedLastNumber, typed);
        return reply.status(status).page('record/set-new.njk', { ...preview, openingId, form, moved });
      }
    },
  );

  app.get<{ Params: { setId: string }; Querystring: z.infer<typeof pageQuery> }>(
    '/projects/:projectId/sets/:setId',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const set = await readSet(deps, actor, { setId: idOr404(request.params.setId) });
      const asked = pageQuery.parse(request.query);
      const { entries, gaps, changes, openQuestions, bases, reliance } = set.content;
      return reply.page('record/set.njk', {
        set,
        parts: {
          entries: listPage(entries, ({ itemId }) => itemId, asked.entries, ENTRIES),
          gaps: listPage(gaps, ({ itemId }) => itemId, asked.gaps, LINES),
          changes: listPage(changes, ({ itemId }) => itemId, asked.changes, LINES),
          questions: listPage(openQuestions, ({ threadId }) => threadId, asked.questions, LINES),
          bases: listPage(bases, ({ itemId }) => itemId, asked.bases, LINES),
        },
        reliance: reliance.map(({ name, items }) => ({
          name,
          items: items.slice(0, LINES),
          more: Math.max(0, items.length - LINES),
        })),
        mayReadChecklist: roleMay(actor.role, 'checklist.read'),
        mayReadCalculation: roleMay(actor.role, 'set.calculation'),
      });
    },
  );

  app.get<{ Params: { setId: string; itemId: string } }>(
    '/projects/:projectId/sets/:setId/items/:itemId',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { setId, itemId } = request.params;
      const set = await readSet(deps, actor, { setId: idOr404(setId) });
      const { item, version } = await readVersionInSet(deps, actor, { setId, itemId: idOr404(itemId) });
      const definition = deps.kinds.get(item.kind);
      return reply.page('record/set-item.njk', {
        set,
        item,
        version,
        kindTitle: definition.title,
        lines: definition.describe(version.content),
        calculation: actor.role === 'owner' ? null : calculationView(version.calculation),
        pictures: await picturesOfVersion(deps, actor.projectId, item.kind, version),
      });
    },
  );
}

/** What of the list that was shown is no longer so, in sentences. */
function movedSince(
  { number, entries, gaps }: SetContent,
  expectedLastNumber: number,
  typed: Readonly<Record<string, string>>,
): string[] {
  const sentences =
    number === expectedLastNumber + 1
      ? []
      : [`Set ${number - 1} was issued since: this would be set ${number}, and its list is shown anew.`];
  for (const entry of entries) {
    const ticked = typed[`entry.${entry.itemId}`];
    if (ticked !== undefined && ticked !== `${entry.versionId}|${entry.hash}`) {
      sentences.push(
        `${entry.title}: version ${entry.number} is there now; tick it again once you have looked.`,
      );
    }
  }
  for (const gap of gaps) {
    if (typed[`entry.${gap.itemId}`] !== undefined)
      sentences.push(withFullStop(`No longer in it: ${gap.sentence}`));
  }
  return sentences;
}
