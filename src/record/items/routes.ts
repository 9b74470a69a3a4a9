import type { FastifyInstance, FastifyReply } from 'fastify';
import { attachmentsOf } from '../../attachments/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { Conflict, Invalid, NotFound, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import { judgeForm, type FormState } from '../../web/forms/judge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { changeRows, readPress, rowsOf } from '../../web/forms/rows.ts';
import type { FormSpec, Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { discardDraft, loadDraft, saveDraft } from '../drafts/service.ts';
import { diffVersions } from '../diff/versions.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { KindForm } from '../kinds/form.ts';
import { calculationView } from '../pages/calculation-view.ts';
import { picturesOfPreview, picturesOfVersion } from '../pages/pictures.ts';
import { readThreads } from '../questions/service.ts';
import { previewVersion, readGroundsOf } from '../versions/preview.ts';
import { compareVersions, readHistory, readItem, readVersion } from '../versions/read.ts';
import { saveVersion, type SaveConflict } from '../versions/service.ts';
import { createItem } from './create.ts';

interface ItemPath {
  Params: { itemId: string };
}

/** Boxes that are not part of the content begin with an underscore. */
const meta = (name: string) => name.startsWith('_') || name === 'do';

export function contentBoxes(typed: Typed): Record<string, string> {
  return Object.fromEntries(Object.entries(typed).filter(([name]) => !meta(name)));
}

export async function itemRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  function formFor(kind: string): KindForm {
    const form = deps.forms.get(kind as ItemKind);
    if (form === undefined) throw new NotFound('That form');
    return form;
  }

  function page(reply: FastifyReply, spec: FormSpec, form: FormState, data: object) {
    return reply.page('record/item-form.njk', { spec, form, rows: rowsOf(spec, form.values), ...data });
  }

  app.get<{ Querystring: { kind?: string; opening?: string; key?: string; fill?: string } }>(
    '/projects/:projectId/items/new',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { kind: asked = '', opening } = request.query;
      const { spec, start, name, kind } = formFor(asked);
      const openingId = kind === 'criteria' ? null : (opening ?? null);
      const grounds = await readGroundsOf(deps, actor, openingId);
      const there = await deps.prisma.item.findMany({
        where: { projectId: actor.projectId, openingId, kind },
        select: { key: true },
      });
      const named = name(there.map((item) => item.key));
      const key = request.query.key ?? named.key;
      const values = {
        ...(readFill(request.query.fill) ?? start(grounds, key)),
        _key: key,
        _title: named.title,
      };
      return page(reply, spec, { values, errors: {} }, await newItemData(kind, openingId));
    },
  );

  async function newItemData(kind: ItemKind, openingId: string | null) {
    const opening =
      openingId === null ? null : await deps.prisma.opening.findUnique({ where: { id: openingId } });
    return { kind, kindTitle: deps.kinds.get(kind).title, openingId, opening, isNew: true };
  }

  app.post('/projects/:projectId/items', { config: { access: 'item.create' } }, async (request, reply) => {
    const actor = actorOf(request);
    const typed = typedFrom(request.body);
    const { spec, kind } = formFor(typed._kind ?? '');
    const openingId = kind === 'criteria' ? null : (typed._opening ?? null);
    const data = await newItemData(kind, openingId);
    const press = readPress(typed);
    if (press.do === 'add' || press.do === 'remove') {
      return page(reply, spec, { values: changeRows(spec, typed, press), errors: {} }, data);
    }
    const judged = judgeForm(spec, deps.kinds.get(kind).schema, typed);
    if (!judged.ok) return page(reply.status(422), spec, judged.form, data);
    const { _key: key = '', _title: title = '', _reason: reason = '' } = typed;
    const { content } = judged;
    try {
      if (press.do === 'preview') {
        const item = { itemId: null, openingId, kind, key, title };
        const calculation = await previewVersion(deps, actor, { item, content });
        const pictures = await picturesOfPreview(deps, actor, openingId, kind, content);
        return await page(reply, spec, judged.form, {
          ...data,
          calculation: calculationView(calculation),
          pictures,
        });
      }
      const { item } = await createItem(deps, actor, { openingId, kind, key, title, content, reason });
      reply.flash(`${item.title} is kept as version 1.`);
      return await reply.redirect(`/projects/${actor.projectId}/items/${item.itemId}`, 303);
    } catch (error) {
      return page(reply.status(422), spec, { values: typed, errors: fieldErrors(error) }, data);
    }
  });

  app.get<ItemPath>(
    '/projects/:projectId/items/:itemId',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const shown = await readItem(deps, actor, { itemId });
      const { item, newest } = shown;
      const [history, threads, attachments, opening] = await Promise.all([
        readHistory(deps, actor, { itemId, limit: 20 }),
        readThreads(deps, actor, { itemId }),
        attachmentsOf(deps.prisma, actor.projectId, actor.role, 'item', [item.itemId]),
        item.openingId === null ? null : deps.prisma.opening.findUnique({ where: { id: item.openingId } }),
      ]);
      const definition = deps.kinds.get(item.kind);
      return reply.page('record/item.njk', {
        ...shown,
        opening,
        kindTitle: definition.title,
        reviewable: definition.reviewable,
        lines: newest === null ? [] : definition.describe(newest.content),
        calculation: newest === null ? null : calculationView(newest.calculation),
        pictures: newest === null ? [] : await picturesOfVersion(deps, actor.projectId, item.kind, newest),
        versions: history.versions,
        threads,
        attachments,
        may: {
          save: roleMay(actor.role, 'item.save'),
          mark: roleMay(actor.role, 'mark.create'),
          share: roleMay(actor.role, 'attachment.share'),
        },
      });
    },
  );

  app.get<ItemPath>(
    '/projects/:projectId/items/:itemId/edit',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const { item, newest } = await readItem(deps, actor, { itemId });
      const { spec } = formFor(item.kind);
      const draft = await loadDraft(deps, actor, { itemId });
      const own = draft !== null && isTyped(draft.body) ? draft.body : null;
      const values = {
        ...(own ?? fillForm(spec, newest?.content)),
        _expected: String(own === null ? (newest?.number ?? 0) : draft?.onNumber),
      };
      return page(
        reply,
        spec,
        { values, errors: {} },
        { ...editData(item), draftFrom: own === null ? null : draft?.updatedAt },
      );
    },
  );

  function editData(item: { itemId: string; kind: ItemKind; title: string; openingId: string | null }) {
    return { item, kind: item.kind, kindTitle: deps.kinds.get(item.kind).title, isNew: false };
  }

  app.post<ItemPath>(
    '/projects/:projectId/items/:itemId/versions',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const typed = typedFrom(request.body);
      const { item } = await readItem(deps, actor, { itemId });
      const { spec } = formFor(item.kind);
      const expectedNumber = Number(typed._expected ?? 0);
      if (!Number.isInteger(expectedNumber) || expectedNumber < 0) throw new NotFound();
      const data = editData(item);
      const press = readPress(typed);
      if (press.do === 'add' || press.do === 'remove') {
        return page(reply, spec, { values: changeRows(spec, typed, press), errors: {} }, data);
      }
      const keep = () =>
        saveDraft(deps, actor, { itemId, onNumber: expectedNumber, body: contentBoxes(typed) });
      const judged = judgeForm(spec, deps.kinds.get(item.kind).schema, typed);
      if (!judged.ok) {
        await keep();
        return page(reply.status(422), spec, judged.form, data);
      }
      try {
        if (press.do === 'preview') {
          await keep();
          const { content } = judged;
          const calculation = await previewVersion(deps, actor, { item, content });
          const pictures = await picturesOfPreview(deps, actor, item.openingId, item.kind, content);
          return await page(reply, spec, judged.form, {
            ...data,
            calculation: calculationView(calculation),
            pictures,
          });
        }
        const saved = await saveVersion(deps, actor, {
          itemId,
          expectedNumber,
          content: judged.content,
          reason: typed._reason ?? '',
          form: contentBoxes(typed),
        });
        reply.flash(
          saved.mark === null
            ? `${item.title} is kept as version ${saved.number}.`
            : `${item.title}: version ${saved.number} is yours and stands as revised.`,
        );
        return await reply.redirect(`/projects/${actor.projectId}/items/${itemId}`, 303);
      } catch (error) {
        if (error instanceof Conflict)
          return conflictPage(reply, spec, typed, error as Conflict<SaveConflict>);
        return page(reply.status(422), spec, { values: typed, errors: fieldErrors(error) }, data);
      }
    },
  );

  /** 409: mine, theirs and what both came from; the form below is mine, ready to be saved over theirs. */
  function conflictPage(
    reply: FastifyReply,
    spec: FormSpec,
    typed: Typed,
    { message, detail }: Conflict<SaveConflict>,
  ) {
    const { item, mine, theirs, base } = detail;
    const side = { calculation: null, restsOn: [], engineVersion: deps.kinds.engineVersion };
    const changes = (from: unknown, to: unknown) =>
      diffVersions(deps.kinds, item.kind, { ...side, content: from }, { ...side, content: to }).content;
    const common = base?.content ?? {};
    const values = { ...typed, _expected: String(theirs?.number ?? 0) };
    return reply.status(409).page('record/conflict.njk', {
      sentence: message,
      base,
      theirs,
      theirChanges: theirs === null ? [] : changes(common, theirs.content),
      myChanges: changes(common, mine.content),
      spec,
      form: { values, errors: {} },
      rows: rowsOf(spec, values),
      ...editData(item),
    });
  }

  app.post<ItemPath>(
    '/projects/:projectId/items/:itemId/draft',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const { itemId } = request.params;
      if (typed.do === 'discard') {
        await discardDraft(deps, actor, { itemId });
        return reply.redirect(`/projects/${actor.projectId}/items/${itemId}/edit`, 303);
      }
      const onNumber = Number(typed._expected ?? 0);
      if (!Number.isInteger(onNumber) || onNumber < 0) throw new NotFound();
      await saveDraft(deps, actor, { itemId, onNumber, body: contentBoxes(typed) });
      return reply.status(204).send();
    },
  );

  app.get<ItemPath & { Querystring: { before?: string } }>(
    '/projects/:projectId/items/:itemId/history',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { itemId } = request.params;
      const before = Number(request.query.before);
      const cut = Number.isInteger(before) && before > 0 ? { before } : {};
      return reply.page('record/history.njk', await readHistory(deps, actorOf(request), { itemId, ...cut }));
    },
  );

  app.get<{ Params: { itemId: string; number: string } }>(
    '/projects/:projectId/items/:itemId/versions/:number',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const { itemId, number } = request.params;
      if (!/^[1-9]\d{0,8}$/.test(number)) throw new NotFound('That version');
      const actor = actorOf(request);
      const shown = await readVersion(deps, actor, { itemId, number: Number(number) });
      const definition = deps.kinds.get(shown.item.kind);
      return reply.page('record/version.njk', {
        ...shown,
        kindTitle: definition.title,
        lines: definition.describe(shown.version.content),
        calculation: calculationView(shown.version.calculation),
        pictures: await picturesOfVersion(deps, actor.projectId, shown.item.kind, shown.version),
      });
    },
  );

  app.get<ItemPath & { Querystring: { was?: string; now?: string } }>(
    '/projects/:projectId/items/:itemId/compare',
    { config: { access: 'item.read' } },
    async (request, reply) => {
      const [was, now] = [Number(request.query.was), Number(request.query.now)];
      if (![was, now].every((number) => Number.isInteger(number) && number > 0))
        throw new NotFound('That version');
      const { itemId } = request.params;
      return reply.page(
        'record/compare.njk',
        await compareVersions(deps, actorOf(request), { itemId, was, now }),
      );
    },
  );
}

function isTyped(body: unknown): body is Typed {
  return (
    typeof body === 'object' &&
    body !== null &&
    Object.values(body).every((value) => typeof value === 'string')
  );
}

/** Boxes handed over in the address, by the search for beams: texts, as if they had been typed. */
function readFill(text: string | undefined): Typed | null {
  if (text === undefined || text.length > 4000) return null;
  try {
    const boxes: unknown = JSON.parse(text);
    return isTyped(boxes) ? contentBoxes(boxes) : null;
  } catch {
    return null;
  }
}

/** What the record or the engine refused, as sentences of the form. Anything else is not the form's to tell. */
function fieldErrors(error: unknown): Readonly<Record<string, string>> {
  if (error instanceof Invalid) {
    const names: Record<string, string> = { key: '_key', title: '_title', reason: '_reason' };
    return Object.fromEntries(
      Object.entries(error.fields).map(([name, text]) => [names[name] ?? name, text]),
    );
  }
  if (error instanceof Refused) return { '': error.message };
  throw error;
}
