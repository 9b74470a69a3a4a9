import type { Actor } from '../../actor.ts';
import {
  containing,
  findFiles,
  itemsWithWordOnPage,
  pagesOfItems,
  wordsOf,
  type FoundFiles,
  type FoundPage,
} from '../../attachments/search.ts';
import { Prisma } from '../../database/generated/client.ts';
import { NotFound } from '../../problems.ts';
import type { Transaction } from '../events/append.ts';
import { knownId } from '../identifier.ts';
import { itemKinds, type ItemKind } from '../kinds/definition.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { withStale } from './standings.ts';
import type { ItemStanding } from './state.ts';
import { factsQuery, listOrder, readFacts, type FactsRow } from './store.ts';

export interface ItemListPage {
  readonly items: readonly ItemStanding[];
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

const PAGE = 50;
const LONGEST_PAGE = 500;

/** A page's last item in list order; an id would be enough if it were not for a row that moved in between. */
interface Cursor {
  readonly kind: ItemKind;
  readonly key: string;
  readonly itemId: string;
}

function writeCursor({ kind, key, itemId }: Cursor): string {
  return Buffer.from(JSON.stringify([kind, key, itemId])).toString('base64url');
}

/** @throws NotFound for an address that this program did not write. */
function readCursor(text: string): Cursor {
  try {
    const [kind, key, itemId] = JSON.parse(Buffer.from(text, 'base64url').toString()) as unknown[];
    const known = itemKinds.find((name) => name === kind);
    if (known !== undefined && typeof key === 'string' && !key.includes('\0') && typeof itemId === 'string') {
      return { kind: known, key, itemId: knownId(itemId, 'That page') };
    }
  } catch {
    // Falls through to the same answer as a cursor of another form.
  }
  throw new NotFound('That page');
}

function afterCursor(after: string | undefined): Prisma.Sql {
  if (after === undefined) return Prisma.empty;
  const { kind, key, itemId } = readCursor(after);
  return Prisma.sql`AND (i.kind, list_key(i.key), i.key, i.id)
    > (${kind}::item_kind, list_key(${key}::text), ${key}::text, ${itemId}::uuid)`;
}

async function page(
  tx: Transaction,
  deps: Pick<RecordDeps, 'kinds'>,
  projectId: string,
  condition: Prisma.Sql,
  input: { readonly after?: string; readonly limit?: number },
): Promise<ItemListPage> {
  const limit = Math.min(Math.max(1, input.limit ?? PAGE), LONGEST_PAGE);
  const rows = await tx.$queryRaw<FactsRow[]>`${factsQuery}
    WHERE i.project_id = ${projectId}::uuid AND ${condition} ${afterCursor(input.after)}
    ORDER BY ${listOrder} LIMIT ${limit + 1}`;
  const facts = rows.slice(0, limit).map((row) => readFacts(deps.kinds, row));
  const last = facts.at(-1);
  return {
    items: await withStale(tx, deps.kinds, projectId, facts),
    next: rows.length > limit && last ? writeCursor(last) : null,
  };
}

/** The items of an opening along the load path, a page at a time; of the project's own where `openingId` is null. */
export async function listItems(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly openingId: string | null;
    readonly kind?: ItemKind;
    readonly after?: string;
    readonly limit?: number;
  },
): Promise<ItemListPage> {
  const openingId = input.openingId === null ? null : knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    if (openingId !== null) {
      const opening = await tx.opening.findFirst({
        where: { id: openingId, projectId },
        select: { id: true },
      });
      if (!opening) throw new NotFound('That opening');
    }
    const where =
      openingId === null ? Prisma.sql`i.opening_id IS NULL` : Prisma.sql`i.opening_id = ${openingId}::uuid`;
    const ofKind =
      input.kind === undefined ? Prisma.empty : Prisma.sql`AND i.kind = ${input.kind}::item_kind`;
    return page(tx, deps, projectId, Prisma.sql`${where} ${ofKind}`, input);
  });
}

export interface SearchPage extends ItemListPage {
  /** By item: on which pages of its drawings the words stand. */
  readonly pages: ReadonlyMap<string, readonly FoundPage[]>;
  /** Photos and drawings of the project, items' or not; with the first page only. */
  readonly files: FoundFiles;
}

/** Items of a project whose title, key, newest content or drawings have all the words, a page at a time. */
export async function searchItems(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly words: string; readonly after?: string; readonly limit?: number },
): Promise<SearchPage> {
  const { projectId: searched } = actor;
  const words = wordsOf(input.words);
  const noFiles: FoundFiles = { files: [], more: false };
  if (words.length === 0) return { items: [], next: null, pages: new Map(), files: noFiles };
  const conditions = words.map((word) => {
    const pattern = containing(word);
    // By the version's id: written as EXISTS, it would be answered from the contents of every project's versions.
    return Prisma.sql`(i.title ILIKE ${pattern} OR i.key ILIKE ${pattern} OR i.kind::text ILIKE ${pattern}
      OR (SELECT content FROM version WHERE version.id = v.id) ILIKE ${pattern}
      OR i.id IN (${itemsWithWordOnPage(searched, word)}))`;
  });
  return asMember(deps, actor, 'item.search', async (tx, { projectId }) => {
    const found = await page(tx, deps, projectId, Prisma.join(conditions, ' AND '), input);
    const ids = found.items.map((one) => one.facts.itemId);
    return {
      ...found,
      pages: await pagesOfItems(tx, projectId, ids, words),
      files: input.after === undefined ? await findFiles(tx, projectId, words) : noFiles,
    };
  });
}
