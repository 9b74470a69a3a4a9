import { randomUUID } from 'node:crypto';
import type { AttachmentView } from '../../attachments/store.ts';
import type { Goods } from '../../engineering/materials-list/index.ts';
import { fillForm } from '../../web/forms/fill.ts';
import type { FormState } from '../../web/forms/judge.ts';
import { orderWords, stepWords } from '../materials/words.ts';
import { askedFields, countLabel, goodsForm } from './forms.ts';
import { blockedSentences, neededWords } from './rules.ts';
import type { MaterialState } from './store.ts';
import { fullWords } from '../materials/words.ts';

const count = (value: number) => String(Number(value.toFixed(1)));

/** What is not counted by pieces. */
const countedIn: Readonly<Partial<Record<Goods['kind'], string>>> = { nail: 'lb of', concrete: 'bags of' };

const unitWords = { lb: 'lb', bag: 'bags', piece: '', each: '' } as const;

/** How every line of the list stands, in words. */
export function shownStandings({ standings, materials }: MaterialState) {
  return standings.map((standing) => ({
    id: standing.line.id,
    item: standing.line.item,
    step: stepWords[standing.line.steps[0] ?? 'beam'].title,
    order: orderWords(standing.line),
    needed: neededWords(standing.line.needed),
    ordered: count(standing.ordered),
    arrived: count(standing.arrived),
    unit: unitWords[standing.line.order.unit],
    state: standing.state,
    blocks: blockedSentences([standing], materials.ordinal),
  }));
}

/** The sentences of everything that is held up, each once. */
export function shownBlocks({ standings, materials }: MaterialState): string[] {
  return blockedSentences(standings, materials.ordinal);
}

/** Lines as they were found, of one delivery or all, with how they compare now. */
export function shownLines(state: MaterialState, photos: readonly AttachmentView[], deliveryId?: string) {
  return state.delivered
    .filter((line) => deliveryId === undefined || line.deliveryId === deliveryId)
    .map((line) => {
      const held = state.held.find((one) => one.delivered.deliveryLineId === line.deliveryLineId);
      return {
        ...line,
        words: fullWords(line.goods),
        calledForWords: fullWords(line.calledFor),
        countWords: `${count(line.count)} ${countedIn[line.goods.kind] ?? '×'}`,
        differences: held?.differences ?? [],
        matches: held?.differences.length === 0,
        photos: photos.filter((photo) => photo.subjectId === line.deliveryLineId),
      };
    });
}

/**
 * One form for each line of the list, with what was called for in its boxes: one press where it is so. Lines that are not
 * here yet come first.
 */
export function lineForms(state: MaterialState, typed: FormState & { readonly prefix: string }) {
  const waiting = state.standings.filter(({ state: is }) => is !== 'arrived');
  const here = state.standings.filter(({ state: is }) => is === 'arrived');
  return [...waiting, ...here].map((standing) => {
    const { line } = standing;
    const prefix = `l${state.standings.indexOf(standing)}`;
    const missing = Math.max(0, line.needed - standing.arrived);
    const start: Record<string, string> = {
      ...fillForm(goodsForm(line.goods.kind), line.goods),
      count: missing > 0 ? neededWords(missing) : count(line.order.count),
    };
    const own = typed.prefix === prefix;
    const under = (values: Readonly<Record<string, string>>) =>
      Object.fromEntries(Object.entries(values).map(([name, value]) => [`${prefix}.${name}`, value]));
    return {
      prefix,
      lineId: line.id,
      words: fullWords(line.goods),
      item: line.item,
      step: stepWords[line.steps[0] ?? 'beam'].title,
      state: standing.state,
      needed: neededWords(line.needed),
      arrived: count(standing.arrived),
      unit: unitWords[line.order.unit],
      countLabel: countLabel(line.goods, line.order.unit),
      fields: askedFields(line.goods.kind),
      clientKey: randomUUID(),
      // Unfolded where something was typed already: refused, or sent after the session had ended.
      wrong: own,
      form: {
        values: under(own ? { ...start, ...typed.values } : start),
        errors: own ? under(typed.errors) : {},
      },
    };
  });
}
