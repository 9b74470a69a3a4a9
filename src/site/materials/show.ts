import type { MaterialsList } from '../../engineering/materials-list/index.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';
import { cutPlanPicture } from '../../report/pictures/index.ts';
import { cutWords, orderWords, reckoningWords, stepWords } from './words.ts';

/** The list in words ready to print, in the order in which the job needs it. */
export function shownList(list: MaterialsList) {
  const groups = new Map<string, ReturnType<typeof shownLine>[]>();
  for (const line of list.lines) {
    const [step] = line.steps;
    const title = step === undefined ? '' : stepWords[step].title;
    groups.set(title, [...(groups.get(title) ?? []), shownLine(line)]);
  }
  return {
    groups: [...groups].map(([title, lines]) => ({ title, lines })),
    cuttings: list.cuttings.map((group, index) => ({
      picture: cutPlanPicture(`cut-${index + 1}`, group),
      step: stepWords[group.step].title,
      item: group.item,
      sentence: cuttingSentence(group.cutting),
    })),
    totalWeightLb: Math.round(list.totalWeightLb),
    lifts: list.lifts
      .filter((lift) => lift.how !== 'one person')
      .map((lift) => ({ ...lift, weightLb: Math.round(lift.weightLb) })),
  };
}

function shownLine(line: MaterialsList['lines'][number]) {
  return {
    id: line.id,
    item: line.item,
    order: orderWords(line),
    cuts: cutWords(line),
    pieces: line.pieces,
    weightLb: Math.round(line.weightLb),
    weightEachLb: Math.round(line.weightLbEach),
    lift: line.lift !== undefined && line.lift !== 'one person' ? line.lift : '',
    reckoning: reckoningWords(line),
    also: line.steps.slice(1).map((step) => stepWords[step].title.toLowerCase()),
  };
}

function cuttingSentence({
  boughtIn,
  leastIn,
  proven,
  sticks,
}: MaterialsList['cuttings'][number]['cutting']): string {
  const feet = (inches: number) => formatFeetInches(inches, { to: 16 });
  const count = sticks.length === 1 ? '1 stick' : `${sticks.length} sticks`;
  return proven
    ? `${count}, ${feet(boughtIn)} of lumber: no way of cutting needs less.`
    : `${count}, ${feet(boughtIn)} of lumber: a good way of cutting; no way needs less than ${feet(leastIn)}.`;
}
