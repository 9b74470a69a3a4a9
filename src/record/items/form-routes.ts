import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Actor } from '../../actor.ts';
import { dayOf } from '../../house-time.ts';
import { Conflict, NotFound } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { fillForm } from '../../web/forms/fill.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { mergeBoxes } from '../../web/forms/merge.ts';
import { typedFrom } from '../../web/forms/read.ts';
import { changeRows, readPress, rowsOf, rowTouched } from '../../web/forms/rows.ts';
import type { FormSpec, Typed } from '../../web/forms/spec.ts';
import { actorOf, timeZoneOf } from '../../web/plugins/access.ts';
import { diffVersions } from '../diff/versions.ts';
import { dropNewDraft, loadNewDraft, saveNewDraft, type NewPlace } from '../drafts/new-items.ts';
import { discardDraft, loadDraft, saveDraft } from '../drafts/service.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { nextLink } from '../openings/next-after-saving.ts';
import { previewView } from '../pages/preview-view.ts';
import { readGroundsOf } from '../versions/preview.ts';
import { readItem } from '../versions/read.ts';
import { saveVersion, type SaveConflict } from '../versions/service.ts';
import { createItem } from './create.ts';
import { draftBoxes, isTyped, readFill } from './form-boxes.ts';
import { isLive } from './live-routes.ts';
import { fieldErrors, formFor, judgeItemForm, openingFor, specFor } from './item-form.ts';

/** A request that was under way when its form was saved arrives within this time. */
const STRAGGLER_MS = 60_000;

interface ItemPath {
  Params: { itemId: string };
}

/** The forms in which items are entered and changed, and the drafts of what was not saved yet. */
export async function itemFormRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  async function page(
    reply: FastifyReply,
    spec: FormSpec,
    form: FormState,
    data: ReturnType<typeof newItemData> | ReturnType<typeof editData>,
    more: object = {},
  ) {
    const id = 'openingId' in data ? data.openingId : data.item.openingId;
    const opening = id === null ? null : await deps.prisma.opening.findUnique({ where: { id } });
    return reply.page('record/item-form.njk', {
      spec,
      form,
      rows: rowsOf(spec, form.values),
      opening,
      ...data,
      ...more,
    });
  }
  const newItemData = (kind: ItemKind, openingId: string | null) => ({
    kind,
    kindTitle: deps.kinds.get(kind).title,
    openingId,
    live: isLive(kind),
    isNew: true,
    titleOptional: deps.forms.get(kind)?.titleFrom !== undefined,
  });
  const editData = (item: { itemId: string; kind: ItemKind; title: string; openingId: string | null }) => ({
    item,
    kind: item.kind,
    kindTitle: deps.kinds.get(item.kind).title,
    live: isLive(item.kind),
    isNew: false,
  });

  app.get<{ Querystring: { kind?: string; opening?: string; key?: string; fill?: string; start?: string } }>(
    '/projects/:projectId/items/new',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { start, starts = {}, name, kind } = formFor(deps, request.query.kind ?? '');
      const openingId = await openingFor(deps, actor, kind, request.query.opening);
      const spec = await specFor(deps, actor, { kind, openingId });
      const grounds = await readGroundsOf(deps, actor, openingId);
      const there = await deps.prisma.item.findMany({
        where: { projectId: actor.projectId, openingId, kind },
        select: { key: true },
      });
      const named = name(there.map((item) => item.key));
      const key = request.query.key ?? named.key;
      const startName = Object.keys(starts).find((one) => one === request.query.start) ?? '';
      const fill = readFill(request.query.fill);
      const kept = await reply.takeKept();
      // From here on it is a draft like any other.
      if (kept !== null) await saveNewDraft(deps, actor, { kind, openingId, body: draftBoxes(kept.fields) });
      // What the search hands over was chosen just now: it stands before what was begun earlier.
      const draft = fill === null ? await loadNewDraft(deps, actor, { kind, openingId }) : null;
      const own = draft !== null && isTyped(draft.body) ? draft.body : null;
      const today = dayOf(deps.clock(), timeZoneOf(request));
      const values = {
        _key: key,
        _title: named.title,
        ...(own ?? fill ?? starts[startName] ?? start(grounds, key, today)),
      };
      return page(reply, spec, { values, errors: {} }, newItemData(kind, openingId), {
        starts: own === null && fill === null ? Object.keys(starts) : [],
        startName,
        kept,
        draftFrom: own === null ? null : draft?.updatedAt,
      });
    },
  );

  const editPage = ({ projectId = '', itemId = '' }) => `/projects/${projectId}/items/${itemId}/edit`;
  const newItemPage = ({ projectId = '' }, { _kind = '', _opening = '' }: Typed) =>
    `/projects/${projectId}/items/new?${new URLSearchParams({ kind: _kind, opening: _opening }).toString()}`;
  app.post(
    '/projects/:projectId/items',
    { config: { access: 'item.create', keepForm: newItemPage } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const { kind, titleFrom, list } = formFor(deps, typed._kind ?? '');
      const openingId = await openingFor(deps, actor, kind, typed._opening);
      const spec = await specFor(deps, actor, { kind, openingId });
      const data = newItemData(kind, openingId);
      const press = readPress(typed);
      const keep = (boxes: Typed) => saveNewDraft(deps, actor, { kind, openingId, body: draftBoxes(boxes) });
      if (press.do === 'draft') {
        await keep(typed);
        reply.flash('Your draft is kept; nobody else sees it.');
        return reply.redirect(newItemPage(actor, typed), 303);
      }
      if (press.do === 'add' || press.do === 'remove') {
        const values = changeRows(spec, typed, press);
        await keep(values);
        return page(reply, spec, { values, errors: {}, at: rowTouched(spec, values, press) }, data);
      }
      const judged = judgeItemForm(deps, kind, spec, typed);
      if (!judged.ok) {
        await keep(typed);
        return page(reply.status(422), spec, judged.form, data);
      }
      const { _key: key = '', _title: typedTitle = '', _reason: reason = '' } = typed;
      const { content } = judged;
      const title = typedTitle.trim() === '' ? (titleFrom?.(content) ?? '') : typedTitle;
      try {
        if (press.do === 'preview') {
          await keep(typed);
          const item = { itemId: null, openingId, kind, key, title };
          return await page(reply, spec, judged.form, {
            ...data,
            ...(await previewView(deps, actor, item, content)),
          });
        }
        const asked = { openingId, kind, key, title, content, reason, fromForm: true } as const;
        const { item } = await createItem(deps, actor, asked);
        reply.flash(
          `${item.title} is kept as version 1.`,
          list === undefined ? await nextLink(deps, actor, openingId) : undefined,
        );
        const place =
          list === undefined || openingId === null ? `items/${item.itemId}` : `openings/${openingId}/${list}`;
        return await reply.redirect(`/projects/${actor.projectId}/${place}`, 303);
      } catch (error) {
        const errors = fieldErrors(error);
        await keep(typed);
        return page(reply.status(422), spec, { values: typed, errors }, data);
      }
    },
  );

  app.post(
    '/projects/:projectId/items/new/draft',
    { config: { access: 'item.create' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const { kind } = formFor(deps, typed._kind ?? '');
      const openingId = await openingFor(deps, actor, kind, typed._opening);
      if (typed.do === 'discard') {
        await dropNewDraft(deps.prisma, actor, { kind, openingId });
        return reply.redirect(newItemPage(actor, typed), 303);
      }
      // Sent by script while the save itself was under way: what it holds is that very item.
      if (await savedJustNow(actor, { kind, openingId, key: typed._key ?? '' }))
        return reply.status(409).send();
      await saveNewDraft(deps, actor, { kind, openingId, body: draftBoxes(typed) });
      return reply.status(204).send();
    },
  );

  /** Did this person save a new item under this mark a moment ago? */
  async function savedJustNow(
    { projectId, personId }: Actor,
    { kind, openingId, key }: NewPlace & { readonly key: string },
  ): Promise<boolean> {
    const since = new Date(deps.clock().getTime() - STRAGGLER_MS);
    const item = await deps.prisma.item.findFirst({
      where: {
        projectId,
        openingId,
        kind,
        key,
        createdAt: { gte: since },
        versions: { some: { number: 1, authorId: personId } },
      },
      select: { id: true },
    });
    return item !== null;
  }

  app.get<ItemPath>(
    '/projects/:projectId/items/:itemId/edit',
    { config: { access: 'item.save' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const { item, newest } = await readItem(deps, actor, { itemId });
      const spec = await specFor(deps, actor, item, newest?.content);
      const kept = await reply.takeKept();
      if (kept !== null) {
        // From here on it is a draft like any other.
        const onNumber = versionNumber(kept.fields._expected);
        await saveDraft(deps, actor, { itemId, onNumber, body: draftBoxes(kept.fields) });
      }
      const draft = await loadDraft(deps, actor, { itemId });
      const own = draft !== null && isTyped(draft.body) ? draft.body : null;
      const values = {
        ...(own ?? fillForm(spec, newest?.content)),
        _expected: String(own === null ? (newest?.number ?? 0) : draft?.onNumber),
      };
      return page(reply, spec, { values, errors: {} }, editData(item), {
        draftFrom: own === null ? null : draft?.updatedAt,
        newest,
        kept,
      });
    },
  );

  app.post<ItemPath>(
    '/projects/:projectId/items/:itemId/versions',
    { config: { access: 'item.save', keepForm: editPage } },
    async (request, reply) => {
      const actor = actorOf(request);
      const { itemId } = request.params;
      const typed = typedFrom(request.body);
      const { item, newest } = await readItem(deps, actor, { itemId });
      const spec = await specFor(deps, actor, item, newest?.content);
      const expectedNumber = versionNumber(typed._expected);
      const data = { ...editData(item), newest };
      const press = readPress(typed);
      const keep = (boxes: Typed) =>
        saveDraft(deps, actor, { itemId, onNumber: expectedNumber, body: draftBoxes(boxes) });
      if (press.do === 'draft') {
        await keep(typed);
        reply.flash('Your draft is kept; nobody else sees it.');
        return reply.redirect(`/projects/${actor.projectId}/items/${itemId}/edit`, 303);
      }
      if (press.do === 'add' || press.do === 'remove') {
        const values = changeRows(spec, typed, press);
        await keep(values);
        return page(reply, spec, { values, errors: {}, at: rowTouched(spec, values, press) }, data);
      }
      const judged = judgeItemForm(deps, item.kind, spec, typed);
      if (!judged.ok) {
        await keep(typed);
        return page(reply.status(422), spec, judged.form, data);
      }
      const { content } = judged;
      try {
        if (press.do === 'preview') {
          await keep(typed);
          return await page(reply, spec, judged.form, {
            ...data,
            ...(await previewView(deps, actor, item, content)),
          });
        }
        const reason = typed._reason ?? '';
        const form = draftBoxes(typed);
        const saved = await saveVersion(deps, actor, { itemId, expectedNumber, content, reason, form });
        reply.flash(
          saved.mark === null
            ? `${item.title} is kept as version ${saved.number}.`
            : `${item.title}: version ${saved.number} is yours and stands as revised.`,
          await nextLink(deps, actor, item.openingId),
        );
        return await reply.redirect(`/projects/${actor.projectId}/items/${itemId}`, 303);
      } catch (error) {
        if (error instanceof Conflict)
          return conflictPage(reply, spec, typed, error as Conflict<SaveConflict>);
        return page(reply.status(422), spec, { values: typed, errors: fieldErrors(error) }, data);
      }
    },
  );

  /** 409: mine, theirs and what both came from; the form below is my changes on top of theirs, ready to be saved. */
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
    const merged = mergeBoxes(spec, {
      base: fillForm(spec, common),
      mine: fillForm(spec, mine.content),
      theirs: fillForm(spec, theirs?.content ?? common),
    });
    const values = {
      ...merged.values,
      _reason: typed._reason ?? '',
      _expected: String(theirs?.number ?? 0),
    };
    return reply.status(409).page('record/conflict.njk', {
      sentence: message,
      base,
      theirs,
      mine,
      both: merged.both,
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
      const onNumber = versionNumber(typed._expected);
      const { newest } = await readItem(deps, actor, { itemId });
      // Sent by script while the save itself was under way: what it holds is that very version.
      const overtaken = newest !== null && newest.number > onNumber && newest.authorId === actor.personId;
      if (overtaken) return reply.status(409).send();
      await saveDraft(deps, actor, { itemId, onNumber, body: draftBoxes(typed) });
      return reply.status(204).send();
    },
  );
}

/** The version that a form began from. @throws NotFound for what no form of ours sends. */
function versionNumber(text: string | undefined): number {
  if (!/^\d{1,8}$/.test(text ?? '0')) throw new NotFound();
  return Number(text ?? 0);
}
