import { z } from 'zod';
import { Conflict, Invalid, NotFound } from '../../problems.ts';
import { Refusal } from '../../engineering/trace/refusal.ts';
import { useCase } from '../../record/use-case.ts';
import { listItems } from '../../record/items/list.ts';
import { readHistory, readItem, readVersion } from '../../record/versions/read.ts';
import { addVersion, type SaveConflict } from '../../record/versions/service.ts';
import type { Deps } from '../../web/deps.ts';
import { operation, type Operation } from '../operation.ts';
import { pointerOf } from '../problems/fields.ts';
import { PreconditionFailed, WrongFields } from '../problems/refusals.ts';
import {
  byNumber,
  byText,
  itemParams,
  kindSchema,
  noQuery,
  openingParams,
  pageOf,
  projectParams,
} from '../schemas/common.ts';
import { itemSchema, savedVersionSchema, versionLineSchema, versionSchema } from '../schemas/record.ts';
import { contentSchema } from '../schemas/references.ts';
import { proseSchema, versionParams } from '../schemas/sent.ts';
import { itemLine, versionLine, versionWhole } from './shown-item.ts';
import { basedOn, versionTag } from './version-tag.ts';

const inItem = { tag: 'Items', access: 'item.read', scope: 'read', status: 200 } as const;

/** Items, their versions, and the saving of a new one. */
export function itemOperations(deps: Deps): Operation[] {
  const listed = byText.extend({ kind: kindSchema.optional() });
  const answer = pageOf(itemSchema, z.string());

  return [
    operation(
      {
        ...inItem,
        id: 'listProjectItems',
        method: 'GET',
        path: '/projects/{projectId}/items',
        summary: 'The items that belong to the whole project: its criteria',
      },
      { params: projectParams, query: listed, body: null, answer },
      async ({ actor, query: { limit, after, kind } }) => {
        const page = await listItems(deps, actor(), { openingId: null, limit, ...given({ after, kind }) });
        return { body: { items: page.items.map(itemLine), next: page.next } };
      },
    ),
    operation(
      {
        ...inItem,
        id: 'listItems',
        method: 'GET',
        path: '/projects/{projectId}/openings/{openingId}/items',
        summary: 'The items of an opening, along the load path',
      },
      { params: openingParams, query: listed, body: null, answer },
      async ({ actor, params: { openingId }, query: { limit, after, kind } }) => {
        const page = await listItems(deps, actor(), { openingId, limit, ...given({ after, kind }) });
        return { body: { items: page.items.map(itemLine), next: page.next } };
      },
    ),
    operation(
      {
        ...inItem,
        id: 'readItem',
        method: 'GET',
        path: '/projects/{projectId}/items/{itemId}',
        summary: 'One item, and where it stands',
      },
      { params: itemParams, query: noQuery, body: null, answer: itemSchema },
      async ({ actor, params: { itemId } }) => {
        const { standing } = await readItem(deps, actor(), { itemId });
        return { body: itemLine(standing) };
      },
    ),
    operation(
      {
        ...inItem,
        id: 'listVersions',
        method: 'GET',
        path: '/projects/{projectId}/items/{itemId}/versions',
        summary: 'The versions of an item, newest first, with the words said on each',
      },
      { params: itemParams, query: byNumber, body: null, answer: pageOf(versionLineSchema, z.int()) },
      async ({ actor, params: { itemId }, query: { limit, after } }) => {
        const page = await readHistory(deps, actor(), { itemId, limit, ...given({ before: after }) });
        return { body: { items: page.versions.map(versionLine), next: page.next } };
      },
    ),
    operation(
      {
        ...inItem,
        id: 'readVersion',
        method: 'GET',
        path: '/projects/{projectId}/items/{itemId}/versions/{number}',
        summary: 'One version: content, what it rests on, calculation',
        etag: true,
      },
      { params: versionParams, query: noQuery, body: null, answer: versionSchema },
      async ({ actor, params: { itemId, number } }) => {
        const { version } = await readVersion(deps, actor(), { itemId, number: Number(number) });
        return { body: versionWhole(version), etag: versionTag(version) };
      },
    ),
    operation(
      {
        ...inItem,
        id: 'readNewestVersion',
        method: 'GET',
        path: '/projects/{projectId}/items/{itemId}/newest',
        summary: 'The newest version of an item, with the tag that a save must name',
        etag: true,
      },
      { params: itemParams, query: noQuery, body: null, answer: versionSchema },
      async ({ actor, params: { itemId } }) => {
        const { newest } = await readItem(deps, actor(), { itemId });
        if (newest === null) throw new NotFound('That version');
        return { body: versionWhole(newest), etag: versionTag(newest) };
      },
    ),
    saving(deps),
  ];
}

function saving(deps: Deps): Operation {
  return operation(
    {
      ...inItem,
      id: 'saveVersion',
      method: 'PUT',
      path: '/projects/{projectId}/items/{itemId}/newest',
      summary: 'Save a new version of an item',
      description:
        'It is calculated, and added to the versions: none is ever changed. If-Match names the version that it is based on. An engineer’s version of a reviewable item is marked “revised” with it, which takes the scope “mark”, too.',
      access: 'item.save',
      scope: 'propose',
      status: 201,
      etag: true,
      precondition: true,
    },
    {
      params: itemParams,
      query: noQuery,
      body: z.strictObject({ content: contentSchema, reason: proseSchema.default('') }),
      answer: savedVersionSchema,
    },
    async ({ actor: acting, params: { itemId }, body: { content, reason }, ...call }) => {
      const actor = acting();
      const based = basedOn(call.ifMatch, call.ifNoneMatch);
      const { item, newest } = await readItem(deps, actor, { itemId });
      if (actor.role === 'engineer' && deps.kinds.get(item.kind).reviewable) call.needScope('mark');
      const seen =
        based.number === newest?.number ? newest : await earlier(deps, actor, itemId, based.number);
      if ((seen?.hash ?? null) !== based.hash) {
        throw new PreconditionFailed(
          'If-Match does not hold a tag of a version of this item.',
          newest && versionTag(newest),
        );
      }
      try {
        // No draft: that is what the person typed on a page, and a program's try must not take its place.
        const asked = { itemId, expectedNumber: based.number, content, reason };
        const saved = await useCase(deps, actor, 'item.save', (use) => addVersion(use, itemId, asked));
        const { versionId, number, hash, repeated, mark } = saved;
        const marked = mark?.word === 'revised' ? mark.word : null;
        return {
          body: { itemId, versionId, number, hash, repeated, marked },
          etag: versionTag(saved),
          location: `/projects/${actor.projectId}/items/${itemId}/versions/${number}`,
        };
      } catch (error) {
        throw asPrecondition(error);
      }
    },
  );
}

async function earlier(deps: Deps, actor: Parameters<typeof readVersion>[1], itemId: string, number: number) {
  if (number === 0) return null;
  try {
    return (await readVersion(deps, actor, { itemId, number })).version;
  } catch (error) {
    if (error instanceof NotFound) return null;
    throw error;
  }
}

/** What a save is refused with, as a program is told it: the paths are those of the content in the body. */
function asPrecondition(error: unknown): unknown {
  if (error instanceof Conflict) {
    const { theirs } = error.detail as SaveConflict;
    const sentence = theirs
      ? `${theirs.authorName} saved version ${theirs.number} meanwhile. Nothing of yours was saved.`
      : 'This item has no such version. Nothing of yours was saved.';
    return new PreconditionFailed(sentence, theirs && versionTag(theirs));
  }
  const below = (path: string, detail: string) => ({ pointer: pointerOf(path, ['content']), detail });
  if (error instanceof Invalid) {
    return new WrongFields(Object.entries(error.fields).map(([path, detail]) => below(path, detail)));
  }
  if (error instanceof Refusal) return new WrongFields([below(error.path, error.message)]);
  return error;
}

/** Without what was not given: the services tell "left out" from "undefined". */
function given<Given extends object>(
  values: Given,
): { [Key in keyof Given]?: Exclude<Given[Key], undefined> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as {
    [Key in keyof Given]?: Exclude<Given[Key], undefined>;
  };
}
