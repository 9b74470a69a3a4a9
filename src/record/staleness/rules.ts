import { Refusal } from '../../engineering/trace/index.ts';
import { readRecordText, recordText, type OutputValue } from '../calculation.ts';
import type { ContextItem, ItemContext, ItemKind, RestsOn } from '../kinds/definition.ts';
import { alongTheLoadPath, type KindRegistry } from '../kinds/registry.ts';
import { sameValue, wordsApart } from './values.ts';

/** One thing that a version rests on, as put on record with it. */
export interface RecordedGround {
  readonly on: {
    readonly itemId: string;
    readonly kind: ItemKind;
    readonly key: string;
    readonly title: string;
    readonly number: number;
    readonly hash: string;
  };
  readonly label: string;
  readonly values: Readonly<Record<string, OutputValue>>;
}

/** Why an item is stale, one reason for each figure that moved. */
export interface StaleReason {
  readonly on: { readonly itemId: string; readonly kind: ItemKind; readonly title: string };
  /** 'Beam, left reaction: demand was 4,120 lb, is 5,310 lb' */
  readonly sentence: string;
}

export function recordedGrounds(grounds: readonly RestsOn[]): RecordedGround[] {
  return grounds.map(({ on, label, values }) => ({
    on: { itemId: on.itemId, kind: on.kind, key: on.key, title: on.title, number: on.number, hash: on.hash },
    label,
    values,
  }));
}

export function groundsText(grounds: readonly RecordedGround[]): string {
  return recordText(grounds);
}

export function readGrounds(text: string): readonly RecordedGround[] {
  return readRecordText(text) as RecordedGround[];
}

const groundKey = (ground: RecordedGround) => `${ground.on.itemId} ${ground.label}`;

/** What moved under a version since it was made: nothing where only version numbers moved and the values are equal. */
export function movedGrounds(
  recorded: readonly RecordedGround[],
  current: readonly RecordedGround[],
): StaleReason[] {
  const reasons: StaleReason[] = [];
  const say = (ground: RecordedGround, what: string) => {
    const { itemId, kind, title } = ground.on;
    // 'Beam, left reaction, D was …': a figure that says the label itself needs it no second time.
    const before = what.startsWith(ground.label) ? '' : `${ground.label}: `;
    reasons.push({ on: { itemId, kind, title }, sentence: `${title}, ${before}${what}` });
  };
  const now = new Map(current.map((ground) => [groundKey(ground), ground]));
  for (const was of recorded) {
    const is = now.get(groundKey(was));
    now.delete(groundKey(was));
    if (!is) {
      say(was, 'is no longer there');
      continue;
    }
    for (const name of new Set([...Object.keys(was.values), ...Object.keys(is.values)])) {
      const before = was.values[name];
      const after = is.values[name];
      if (before === undefined && after !== undefined) {
        say(is, `${name} is ${wordsApart('', after).now}; there was none before`);
      } else if (after === undefined && before !== undefined) {
        say(is, `${name} was ${wordsApart(before, '').was}; there is none now`);
      } else if (before !== undefined && after !== undefined && !sameValue(before, after)) {
        const apart = wordsApart(before, after);
        say(is, `${name} was ${apart.was}, is ${apart.now}`);
      }
    }
  }
  for (const added of now.values()) say(added, 'is new and was not counted');
  return reasons;
}

/** Do two versions rest on the same figures, whatever the numbers of the versions they came from? */
export function sameGrounds(one: readonly RecordedGround[], other: readonly RecordedGround[]): boolean {
  return movedGrounds(one, other).length === 0;
}

/** An item's newest version, with what it was made to rest on. */
export interface GroundedItem {
  readonly itemId: string;
  readonly projectId: string;
  readonly openingId: string | null;
  readonly kind: ItemKind;
  readonly key: string;
  readonly title: string;
  readonly content: unknown;
  readonly restsOn: readonly RecordedGround[];
}

/** What items of an opening rest on: newest versions of the opening's own and of the project's. */
export interface GroundItem extends ContextItem {
  readonly projectId: string;
  readonly openingId: string | null;
}

/** The context of one item: the kinds it declares, of its own opening and of the whole project. */
export function contextOf(
  kinds: KindRegistry,
  item: Pick<GroundedItem, 'itemId' | 'projectId' | 'openingId' | 'kind' | 'key' | 'title'>,
  grounds: readonly GroundItem[],
): ItemContext {
  const declared = kinds.get(item.kind).restsOnKinds;
  return {
    self: { itemId: item.itemId, key: item.key, title: item.title },
    items: grounds.filter((ground) => declared.includes(ground.kind) && isWithin(ground, item)),
  };
}

/** Does the ground belong to the item's own opening, or to its whole project? */
function isWithin(ground: GroundItem, item: Pick<GroundedItem, 'projectId' | 'openingId'>): boolean {
  return (
    ground.projectId === item.projectId && (ground.openingId === null || ground.openingId === item.openingId)
  );
}

/**
 * The items that are stale, each with its reasons. `items` must hold, besides the items asked about, every item
 * of `grounds`: an item is stale, too, when what it rests on is stale itself.
 */
export function staleItems(
  kinds: KindRegistry,
  items: readonly GroundedItem[],
  grounds: readonly GroundItem[],
): ReadonlyMap<string, readonly StaleReason[]> {
  const stale = new Map<string, readonly StaleReason[]>();
  const order = new Map(alongTheLoadPath(kinds).map((kind, place) => [kind, place]));
  const sorted = [...items].sort((one, other) => (order.get(one.kind) ?? 0) - (order.get(other.kind) ?? 0));
  const byPlace = new Map<string, readonly GroundItem[]>();
  for (const item of sorted) {
    if (kinds.get(item.kind).restsOnKinds.length === 0) continue;
    const place = `${item.projectId} ${item.openingId ?? ''}`;
    const own = byPlace.get(place) ?? grounds.filter((ground) => isWithin(ground, item));
    byPlace.set(place, own);
    const reasons = reasonsFor(kinds, item, contextOf(kinds, item, own), stale);
    if (reasons.length > 0) stale.set(item.itemId, reasons);
  }
  return stale;
}

function reasonsFor(
  kinds: KindRegistry,
  item: GroundedItem,
  context: ItemContext,
  stale: ReadonlyMap<string, readonly StaleReason[]>,
): StaleReason[] {
  let current: readonly RecordedGround[];
  try {
    current = recordedGrounds(kinds.get(item.kind).restsOn(item.content, context));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { itemId, kind, title } = item;
    return [
      { on: { itemId, kind, title }, sentence: `It can't be calculated as things stand: ${error.message}` },
    ];
  }
  const reasons = movedGrounds(item.restsOn, current);
  const named = new Set(reasons.map((reason) => reason.on.itemId));
  for (const { on } of current) {
    if (!stale.has(on.itemId) || named.has(on.itemId)) continue;
    named.add(on.itemId);
    const { itemId, kind, title } = on;
    reasons.push({ on: { itemId, kind, title }, sentence: `${title} is itself out of date` });
  }
  return reasons;
}
