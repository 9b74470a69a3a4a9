import {
  differences,
  goodsSchema,
  type Goods,
  type MaterialLine,
  type MaterialStep,
} from '../../engineering/materials-list/index.ts';
import { Invalid } from '../../problems.ts';
import { upperFirst } from '../../record/prose.ts';
import { fullWords, stepWords, thingWords } from '../materials/words.ts';

/** What arrived, as the site wrote it down; goods that went back and slips of the thumb don't count. */
export interface DeliveredGoods {
  readonly deliveryLineId: string;
  /** The line of the list that it was meant for when it was checked. */
  readonly lineId: string;
  readonly goods: Goods;
  readonly count: number;
  readonly withdrawn: boolean;
}

export interface OrderedGoods {
  readonly goods: Goods;
  readonly count: number;
}

/** What arrived, held against the list as it stands now. */
export interface HeldGoods<Delivered extends DeliveredGoods = DeliveredGoods> {
  readonly delivered: Delivered;
  /** The line that it is counted for or, where it does not match, that it was meant for. */
  readonly line: MaterialLine | undefined;
  /** In sentences; empty where it matches. */
  readonly differences: readonly string[];
}

export interface LineStanding<Delivered extends DeliveredGoods = DeliveredGoods> {
  readonly line: MaterialLine;
  readonly ordered: number;
  /** Only what matches. */
  readonly arrived: number;
  readonly wrong: readonly HeldGoods<Delivered>[];
  readonly state: 'arrived' | 'short' | 'wrong' | 'ordered' | 'to order';
}

const ENOUGH = 1e-6;

/**
 * Every delivered line against the set in force: first the line that it was meant for, then any other that calls for just
 * this. So a delivery that was wrong matches once a set calls for it, and one that was right is wrong once it doesn't.
 */
export function holdAgainst<Delivered extends DeliveredGoods>(
  lines: readonly MaterialLine[],
  delivered: readonly Delivered[],
): HeldGoods<Delivered>[] {
  return delivered
    .filter(({ withdrawn }) => !withdrawn)
    .map((one) => {
      const own = lines.find(({ id }) => id === one.lineId);
      const found = [...(own === undefined ? [] : [own]), ...lines].find(
        (line) => differences(line.goods, one.goods, line.leastLengthIn).length === 0,
      );
      if (found !== undefined) return { delivered: one, line: found, differences: [] };
      const [step] = one.lineId.split('.');
      const meant = own ?? lines.find((line) => line.goods.kind === one.goods.kind && line.steps[0] === step);
      return {
        delivered: one,
        line: meant,
        differences:
          meant === undefined
            ? [`The set in force does not call for ${fullWords(one.goods)}.`]
            : differences(meant.goods, one.goods, meant.leastLengthIn).map(({ sentence }) => sentence),
      };
    });
}

export function lineStandings<Delivered extends DeliveredGoods>(
  lines: readonly MaterialLine[],
  held: readonly HeldGoods<Delivered>[],
  ordered: readonly OrderedGoods[],
): LineStanding<Delivered>[] {
  const sum = (counts: readonly { readonly count: number }[]) =>
    counts.reduce((total, { count }) => total + count, 0);
  return lines.map((line) => {
    const own = held.filter((one) => one.line?.id === line.id);
    const arrived = sum(own.filter((one) => one.differences.length === 0).map((one) => one.delivered));
    const wrong = own.filter((one) => one.differences.length > 0);
    const asked = sum(ordered.filter(({ goods }) => differences(line.goods, goods).length === 0));
    const state =
      arrived >= line.needed - ENOUGH
        ? 'arrived'
        : wrong.length > 0
          ? 'wrong'
          : arrived > 0
            ? 'short'
            : asked > 0
              ? 'ordered'
              : 'to order';
    return { line, ordered: asked, arrived, wrong, state };
  });
}

/** What lines that are not here in full hold up, in plain words: one sentence for each step that waits for some. */
export function blockedSentences(standings: readonly LineStanding[], ordinal: number): string[] {
  const waiting = new Map<MaterialStep, Map<string, Set<string>>>();
  // What came and does not match stands last, next to what it holds up.
  const inOrder = [...standings].sort(
    (one, other) => Number(one.state === 'wrong') - Number(other.state === 'wrong'),
  );
  for (const { line, state, arrived } of inOrder) {
    if (state === 'arrived') continue;
    const how =
      state === 'wrong'
        ? 'not as called for'
        : state === 'short'
          ? `short (${shown(arrived)} of ${neededWords(line.needed)})`
          : 'missing';
    for (const step of line.steps) {
      const things = waiting.get(step) ?? new Map<string, Set<string>>();
      waiting.set(step, things.set(how, (things.get(how) ?? new Set()).add(thingWords(line))));
    }
  }
  return [...waiting].map(([step, things]) => {
    const what = [...things].map(([how, names]) => `${[...names].join(', ')} ${how}`).join('; ');
    return upperFirst(`${what}: opening ${ordinal} ${stepWords[step].held}.`);
  });
}

function shown(count: number): string {
  return String(Number(count.toFixed(1)));
}

/** What is needed, up to the next tenth: what is short must not read as enough, nor a few nails as none. */
export function neededWords(needed: number): string {
  return shown(Math.ceil(needed * 10 - ENOUGH) / 10);
}

/** What was written down as goods. @throws Invalid at the boxes that do not do */
export function judgedGoods(typed: unknown): Goods {
  const judged = goodsSchema.safeParse(typed);
  if (judged.success) return judged.data;
  const fields: Record<string, string> = {};
  for (const issue of judged.error.issues) fields[issue.path.map(String).join('.')] ??= issue.message;
  throw new Invalid(fields);
}

export interface OnSite {
  readonly onSite: boolean;
  /** Why not; empty where it is. */
  readonly reasons: readonly string[];
}

/** Is the material for a step on site, by the set in force? */
export function materialOnSite(
  standings: readonly LineStanding[],
  step: MaterialStep,
  ordinal: number,
): OnSite {
  const reasons = blockedSentences(
    standings
      .filter(({ line }) => line.steps.includes(step))
      .map((standing) => ({ ...standing, line: { ...standing.line, steps: [step] } })),
    ordinal,
  );
  return { onSite: reasons.length === 0, reasons };
}
