import { END_TRIM_IN, SAW_KERF_IN, type CuttingGroup } from '../../engineering/materials-list/index.ts';
import { formatFeetInches, formatInches } from '../../engineering/units/index.ts';
import { drawCutPlan, type CutStick } from '../drawings/index.ts';
import type { Picture } from './picture.ts';

/** How a group of lumber is cut, equal sticks drawn once. */
export function cutPlanPicture(id: string, group: CuttingGroup): Picture {
  const { sticks } = group.cutting;
  const alike = new Map<string, CutStick>();
  for (const { stockIn, piecesIn, leftIn } of sticks) {
    const key = [stockIn, ...piecesIn].join(' ');
    const times = (alike.get(key)?.times ?? 0) + 1;
    alike.set(key, { times, stockIn, piecesIn, leftIn });
  }
  const title = `Cut plan: ${group.item}`;
  return {
    title,
    svg: drawCutPlan({
      id,
      title,
      description: `${sticks.length} sticks, ${formatFeetInches(group.cutting.boughtIn, { to: 16 })} in all, saw kerf ${formatInches(SAW_KERF_IN, { to: 16 })} and end trim ${formatInches(END_TRIM_IN, { to: 16 })} counted.`,
      kerfIn: SAW_KERF_IN,
      endTrimIn: END_TRIM_IN,
      sticks: [...alike.values()],
      words: (inches) => formatFeetInches(inches, { to: 16 }),
    }),
  };
}
