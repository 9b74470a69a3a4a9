import {
  goodsWords,
  type Goods,
  type MaterialLine,
  type MaterialStep,
} from '../../engineering/materials-list/index.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';

const feet = (inches: number) => formatFeetInches(inches, { to: 16 });

/** What each step is called on a page, and what stays as it is while its material is missing. */
export const stepWords: Readonly<Record<MaterialStep, { readonly title: string; readonly held: string }>> = {
  shoring: { title: 'Temporary shoring', held: 'can’t be shored: nothing may be cut or taken out' },
  footings: { title: 'Footings', held: 'can’t get its footings: no load may come onto them' },
  packs: { title: 'Jacks, kings and posts', held: 'has nothing to set the beam on; shoring stays' },
  beam: { title: 'Beam', held: 'can’t get its beam; shoring stays' },
  joists: { title: 'Joists and hangers', held: 'can’t have its joists hung; shoring stays' },
};

/** What a line is bought as: '3 at 12'-0"', '2 lb (2 boxes of 1 lb)'. */
export function orderWords({ order }: Pick<MaterialLine, 'order'>): string {
  const { count, unit, stockLengthIn, boxes } = order;
  if (stockLengthIn !== undefined) return `${count} at ${feet(stockLengthIn)}`;
  if (unit === 'lb') return `${count} lb${boxes === undefined ? '' : ` (${boxes})`}`;
  if (unit === 'bag') return `${count} bags of 80 lb`;
  return String(count);
}

/** Cut lengths, equal ones together: '6 at 7'-6", 2 at 7'-8 5/8"'. */
export function cutWords({ cuts }: Pick<MaterialLine, 'cuts'>): string {
  const times = new Map<string, number>();
  for (const cut of [...cuts].sort((one, other) => other - one)) {
    const words = feet(cut);
    times.set(words, (times.get(words) ?? 0) + 1);
  }
  return [...times].map(([words, count]) => `${count} at ${words}`).join(', ');
}

/**
 * How the count comes about, with what is counted: 'N1: 22 nails in the pattern × 2 faces between plies'. Said here, since
 * the engine's own words are results that its version stands for.
 */
export function reckoningWords({ goods, reckoning }: Pick<MaterialLine, 'goods' | 'reckoning'>): string[] {
  const counted = goods.kind === 'nail' ? 'nail' : goods.kind === 'screw or bolt' ? goods.what : undefined;
  if (counted === undefined) return [...reckoning];
  return reckoning.map((words) =>
    words.replace(
      /(?<!\d)\d+(?= in the pattern| a hanger)/,
      (count) => `${count} ${counted}${count === '1' ? '' : 's'}`,
    ),
  );
}

/** A short name of what a line is for, used where it is missing: 'beam plies', 'shoring lumber'. */
export function thingWords({ goods, steps }: Pick<MaterialLine, 'goods' | 'steps'>): string {
  const [step] = steps;
  switch (goods.kind) {
    case 'composite':
    case 'glulam':
    case 'steel shape':
      return goods.kind === 'composite' ? 'beam plies' : 'the beam';
    case 'steel plate':
      return 'flitch plates';
    case 'sawn':
      return step === 'beam' ? 'beam plies' : step === 'shoring' ? 'shoring lumber' : 'jacks and kings';
    case 'nail':
    case 'screw or bolt':
      return `${goodsWords(goods)}s`;
    case 'hanger':
      return 'joist hangers';
    case 'concrete':
      return 'concrete';
  }
}

/** Goods with the length of the stick, as they are asked for: '1.75 x 9.5 LVL 1.9E, 12'-0"'. */
export function fullWords(goods: Goods): string {
  const inWords = goods.kind === 'nail' || goods.kind === 'screw or bolt' || !('lengthIn' in goods);
  return inWords ? goodsWords(goods) : `${goodsWords(goods)}, ${feet(goods.lengthIn)}`;
}
