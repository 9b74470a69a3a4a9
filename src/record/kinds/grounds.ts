import type { Beam, Support } from '../../engineering/proposal/design.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import type { OutputValue } from '../calculation.ts';
import { allOf, onlyOf, type ContextItem, type ItemContext, type ItemKind } from './definition.ts';

/** The newest version of the one item of a kind that this rests on. @throws Refusal where there is none yet. */
export function ground(context: ItemContext, kind: ItemKind, missing: string): ContextItem {
  const found = onlyOf(context, kind);
  if (found === undefined) throw new Refusal('', missing);
  return found;
}

export function criteriaOf(context: ItemContext): { item: ContextItem; content: Criteria } {
  const item = ground(
    context,
    'criteria',
    'Enter the project’s design criteria first: every calculation rests on them.',
  );
  return { item, content: item.content as Criteria };
}

export function surveyOf(context: ItemContext): { item: ContextItem; content: Survey } {
  const item = ground(context, 'survey', 'Enter the survey first: what bears on the wall today.');
  return { item, content: item.content as Survey };
}

export function beamOf(context: ItemContext): { item: ContextItem; content: Beam } {
  const item = ground(context, 'beam', 'Propose the beam first: this rests on its reactions.');
  return { item, content: item.content as Beam };
}

export function supportAt(
  context: ItemContext,
  end: 'left' | 'right',
): { item: ContextItem; content: Support } {
  const item = allOf(context, 'support').find((one) => (one.content as Support).end === end);
  if (item === undefined)
    throw new Refusal('end', `Propose the ${end} support first: the footing stands under it.`);
  return { item, content: item.content as Support };
}

/** The outputs of another item whose names begin so, as the figures taken from it. */
export function outputsFrom(item: ContextItem, starts: readonly string[]): Record<string, OutputValue> {
  return Object.fromEntries(
    Object.entries(item.outputs).filter(([name]) => starts.some((start) => name.startsWith(start))),
  );
}
