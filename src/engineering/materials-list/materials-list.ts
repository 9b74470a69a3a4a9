import { layOutOpening, type OpeningLayout } from '../layout/index.ts';
import type { Beam, Footing, Shoring, Support } from '../proposal/design.ts';
import type { Survey } from '../proposal/survey.ts';
import type { Editions, Notice } from '../trace/index.ts';
import { woodMember } from '../wood/index.ts';
import { shoringPieces } from './shoring-pieces.ts';
import { COMPOSITE_STOCK_IN, cutFromStock, SAWN_STOCK_IN, stockLengthIn } from './stock.ts';

export interface MaterialLine {
  readonly id: string;
  readonly use: 'beam' | 'support' | 'shoring' | 'footing';
  /** '1.75x11.875 LVL 2.0E', '2x6 DF-L No.2', 'concrete, 2500 psi'. */
  readonly item: string;
  /** What is cut or built in. */
  readonly pieces: number;
  /** Each, in; absent for concrete and where lengths differ (`cuts` holds them). */
  readonly lengthIn?: number;
  /** All cut lengths, in; empty for concrete. */
  readonly cuts: readonly number[];
  /** What is bought. */
  readonly order: {
    readonly count: number;
    readonly unit: 'piece' | 'bag';
    readonly stockLengthIn?: number;
    /** Waste and rounding in it. */
    readonly volumeFt3?: number;
  };
  readonly weightLbEach: number;
  readonly weightLb: number;
}

export interface MaterialsListInput {
  readonly survey: Survey;
  readonly beam: Beam;
  readonly supports: readonly Support[];
  readonly footings: readonly Footing[];
  readonly shoring?: Shoring;
  readonly editions: Editions;
  readonly measuredPlyIn?: number;
}

export interface MaterialsList {
  readonly lines: readonly MaterialLine[];
  readonly totalWeightLb: number;
  readonly notices: readonly Notice[];
}

/** An 80 lb bag of concrete mix fills 0.60 ft³; a tenth more is ordered. Common practice. */
export const BAG_LB = 80;
export const BAG_FT3 = 0.6;
const CONCRETE_WASTE = 1.1;

/**
 * Everything to order for an opening but its fasteners and hangers (those come with the schedule): pieces, cut
 * lengths, stock to buy, weights. Refuses what the layout refuses, and pieces longer than all stock.
 */
export function materialsList(input: MaterialsListInput): MaterialsList {
  const layout = layOutOpening({
    survey: input.survey,
    beam: input.beam,
    supports: input.supports,
    footings: input.footings,
    editions: input.editions,
    ...(input.measuredPlyIn === undefined ? {} : { measuredPlyIn: input.measuredPlyIn }),
  });
  const lines = [
    ...beamLines(layout),
    ...supportLines(input, layout),
    ...concreteLines(input.footings),
    ...(input.shoring === undefined ? [] : shoringLines(input, layout, input.shoring)),
  ];
  return {
    lines,
    totalWeightLb: lines.reduce((sum, line) => sum + line.weightLb, 0),
    notices: layout.notices,
  };
}

function beamLines(layout: OpeningLayout): MaterialLine[] {
  const { lengthIn, pieces } = layout.beam;
  return pieces.map((piece, index) => {
    const cutToOrder = piece.material === 'steel shape' || piece.material === 'steel plate';
    const stock = cutToOrder
      ? lengthIn
      : stockLengthIn(
          lengthIn,
          piece.material === 'sawn lumber' ? SAWN_STOCK_IN : COMPOSITE_STOCK_IN,
          'beam',
        );
    const weightLbEach = (piece.weightPlf * stock) / 12;
    return {
      id: `beam.${index + 1}`,
      use: 'beam',
      item: piece.label,
      pieces: piece.count,
      lengthIn,
      cuts: Array.from({ length: piece.count }, () => lengthIn),
      order: { count: piece.count, unit: 'piece', stockLengthIn: stock },
      weightLbEach,
      weightLb: weightLbEach * piece.count,
    };
  });
}

interface Lumber {
  readonly species: string;
  readonly grade: string;
  readonly size: string;
}

function supportLines(input: MaterialsListInput, layout: OpeningLayout): MaterialLine[] {
  const groups = new Map<string, { lumber: Lumber; cuts: number[] }>();
  for (const support of input.supports) {
    const pack = layout.packs.find((one) => one.end === support.end);
    const key = [support.size, support.species, support.grade].join(' ');
    const group = groups.get(key) ?? { lumber: support, cuts: [] };
    group.cuts.push(...(pack?.plies.map((ply) => ply.lengthIn) ?? []));
    groups.set(key, group);
  }
  return [...groups.values()].flatMap(({ lumber, cuts }, index) =>
    lumberLine(`support.${index + 1}`, 'support', lumber, cuts, input.editions),
  );
}

function shoringLines(input: MaterialsListInput, layout: OpeningLayout, shoring: Shoring): MaterialLine[] {
  const { studsIn, longIn } = shoringPieces(shoring, layout.beam.lengthIn, layout.wallHeightIn);
  const lumber = { species: shoring.species, grade: shoring.grade, size: shoring.studSize };
  return [
    ...lumberLine('shoring.studs', 'shoring', lumber, studsIn, input.editions),
    ...lumberLine('shoring.plates', 'shoring', lumber, longIn, input.editions),
  ];
}

function lumberLine(
  id: string,
  use: MaterialLine['use'],
  lumber: Lumber,
  cuts: readonly number[],
  editions: Editions,
): MaterialLine[] {
  const cutting = cutFromStock(cuts, SAWN_STOCK_IN);
  if (cutting === undefined) return [];
  const member = woodMember({ kind: 'sawn', ...pick(lumber), plies: 1 }, editions.nds, id);
  const weightLbEach = (member.weightPlf * cutting.stockIn) / 12;
  const [first] = cuts;
  const alike = first !== undefined && cuts.every((cut) => cut === first);
  return [
    {
      id,
      use,
      item: member.label,
      pieces: cuts.length,
      ...(alike ? { lengthIn: first } : {}),
      cuts,
      order: { count: cutting.count, unit: 'piece', stockLengthIn: cutting.stockIn },
      weightLbEach,
      weightLb: weightLbEach * cutting.count,
    },
  ];
}

function pick({ species, grade, size }: Lumber): Lumber {
  return { species, grade, size };
}

/** One order of bags for all pads of one strength. */
function concreteLines(footings: readonly Footing[]): MaterialLine[] {
  const byStrength = new Map<number, number[]>();
  for (const { pad, concretePsi } of footings) {
    if (pad === undefined) continue;
    const volumeFt3 = (pad.widthIn * pad.lengthIn * pad.thicknessIn) / 1728;
    byStrength.set(concretePsi, [...(byStrength.get(concretePsi) ?? []), volumeFt3]);
  }
  return [...byStrength].map(([concretePsi, volumes], index) => {
    const volumeFt3 = CONCRETE_WASTE * volumes.reduce((sum, volume) => sum + volume, 0);
    const bags = Math.ceil(volumeFt3 / BAG_FT3 - 1e-9);
    return {
      id: `footing.${index + 1}`,
      use: 'footing',
      item: `concrete, ${concretePsi} psi`,
      pieces: volumes.length,
      cuts: [],
      order: { count: bags, unit: 'bag', volumeFt3 },
      weightLbEach: BAG_LB,
      weightLb: bags * BAG_LB,
    };
  });
}
