import { LRUCache } from 'lru-cache';
import type { FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import {
  listOf,
  openingNeeds,
  type MaterialsList,
  type MaterialsListInput,
  type OpeningNeeds,
} from '../../engineering/materials-list/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Shoring, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import { NotFound } from '../../problems.ts';
import type { Transaction } from '../../record/events/append.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { findSet } from '../../record/sets/store.ts';

/** An approved version that the list is made from. */
export interface ApprovedItem {
  readonly itemId: string;
  readonly versionId: string;
  readonly number: number;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly content: unknown;
}

/** What the set in force of an opening calls for. */
export interface ApprovedMaterials {
  readonly openingId: string;
  readonly ordinal: number;
  readonly name: string;
  /** Null where no set was issued: nothing may be ordered from this record then. */
  readonly set: { readonly setId: string; readonly number: number; readonly issuedAt: Date } | null;
  readonly list: MaterialsList;
  readonly needs: OpeningNeeds;
  /** The items by the names that the lines carry: 'beam', 'support:left', 'fastening:N1'. */
  readonly items: ReadonlyMap<string, ApprovedItem>;
  /** What can't be listed, and why. */
  readonly gaps: readonly string[];
}

const nothing: OpeningNeeds = {
  whole: [],
  lumber: [],
  concrete: [],
  fasteners: [],
  hangers: [],
  lifts: [],
  notices: [],
  unlisted: [],
};

/** The name under which a line of the list knows an item. */
export function sourceOf({ kind, key, content }: Pick<ApprovedItem, 'kind' | 'key' | 'content'>): string {
  if (kind === 'support' || kind === 'footing') return `${kind}:${(content as Support | Footing).end}`;
  return kind === 'fastening' || kind === 'hanger' ? `${kind}:${key}` : kind;
}

/** What a set comes to, by its hash: a set is frozen, so that this never changes. Sets kept at most: some 15 MB. */
const ofSets = new LRUCache<string, FromSet>({ max: 100 });

type FromSet = Pick<ApprovedMaterials, 'list' | 'needs' | 'gaps' | 'items'>;

/** The material list of an opening's set in force. @throws NotFound for an opening of another project. */
export async function approvedMaterials(
  tx: Transaction,
  projectId: string,
  openingId: string,
): Promise<ApprovedMaterials> {
  const opening = await tx.opening.findFirst({
    where: { id: openingId, projectId },
    select: {
      ordinal: true,
      name: true,
      sets: {
        orderBy: { number: 'desc' },
        take: 1,
        select: { id: true, number: true, issuedAt: true, hash: true },
      },
    },
  });
  if (!opening) throw new NotFound('That opening');
  const place = { openingId, ordinal: opening.ordinal, name: opening.name };
  const [set] = opening.sets;
  if (set === undefined) {
    const gaps = ['No approved set was issued yet: nothing is to be ordered from this record so far.'];
    return { ...place, set: null, list: listOf([]), needs: nothing, items: new Map(), gaps };
  }
  const { id: setId, number, issuedAt, hash } = set;
  const kept = ofSets.get(hash) ?? (await fromSet(tx, projectId, setId));
  ofSets.set(hash, kept);
  return { ...place, set: { setId, number, issuedAt }, ...kept };
}

async function fromSet(tx: Transaction, projectId: string, setId: string): Promise<FromSet> {
  const set = await findSet(tx, projectId, setId);
  if (set === null) throw new NotFound('That set');
  const frozen = [...set.content.bases, ...set.content.entries];
  const versions = await tx.version.findMany({
    where: { id: { in: frozen.map((entry) => entry.versionId) }, projectId },
    select: { id: true, content: true },
  });
  const contents = new Map(versions.map(({ id, content }) => [id, JSON.parse(content) as unknown]));
  const items = frozen.map(({ itemId, versionId, number, kind, key, title }): ApprovedItem => ({
    itemId,
    versionId,
    number,
    kind,
    key,
    title,
    content: contents.get(versionId),
  }));
  return { items: new Map(items.map((item) => [sourceOf(item), item])), ...listed(items) };
}

/** The list that approved items come to; what can't be worked out is said, and the rest is listed. */
export function listed(
  items: readonly Pick<ApprovedItem, 'kind' | 'key' | 'content'>[],
): Pick<ApprovedMaterials, 'list' | 'needs' | 'gaps'> {
  const keyed = (kind: ItemKind) => items.filter((item) => item.kind === kind);
  const of = (kind: ItemKind): unknown[] => keyed(kind).map((item) => item.content);
  const criteria = of('criteria')[0] as Criteria | undefined;
  const survey = of('survey')[0] as Survey | undefined;
  const beam = of('beam')[0] as Beam | undefined;
  const shoring = of('shoring')[0] as Shoring | undefined;
  if (criteria === undefined || survey === undefined) {
    return { list: listOf([]), needs: nothing, gaps: ['The set holds no criteria or no survey.'] };
  }
  const input: MaterialsListInput = {
    survey,
    editions: criteria.editions,
    supports: of('support') as Support[],
    footings: of('footing') as Footing[],
    rows: keyed('fastening').map(({ key, content }) => ({ key, row: content as FasteningRow })),
    hangers: keyed('hanger').map(({ key, content }) => ({ key, hanger: content as Hanger })),
    ...(beam === undefined ? {} : { beam }),
    ...(shoring === undefined ? {} : { shoring }),
  };
  const gaps = [
    ...(beam === undefined
      ? ['The set has no approved beam: neither the beam nor the packs under it are listed.']
      : []),
    ...(shoring === undefined ? ['The set has no approved shoring plan: its lumber is not listed.'] : []),
    ...(beam?.placement === 'flush' && input.hangers?.length === 0
      ? ['The set has no hanger line: joist hangers are not listed.']
      : []),
  ];
  try {
    const needs = openingNeeds(input);
    return { needs, list: listOf([needs]), gaps: [...gaps, ...needs.unlisted.map(({ text }) => text)] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { list: listOf([]), needs: nothing, gaps: [...gaps, `It can’t be listed: ${error.message}`] };
  }
}
