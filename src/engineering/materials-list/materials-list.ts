import { fastenerLabel, type Fastener } from '../fasteners/dowels/fastener.ts';
import { howToLift, type Lift } from '../layout/index.ts';
import type { Notice } from '../trace/index.ts';
import { goodsWords, materialSteps, type Goods, type MaterialStep } from './called-for.ts';
import { cutFromStock, usedIn, type Cutting } from './cutting/index.ts';
import { boxWords, nailsPerPound } from './fastener-weight.ts';
import type {
  ConcreteNeed,
  FastenerNeed,
  HangerNeed,
  LumberNeed,
  OpeningNeeds,
  Unlisted,
  WholeNeed,
} from './needs.ts';
import { openingNeeds, type MaterialsListInput } from './opening-needs.ts';
import { END_TRIM_IN, SAW_KERF_IN, sawnStockFor } from './stock.ts';

export type { MaterialsListInput } from './opening-needs.ts';

/** One thing to buy. */
export interface MaterialLine {
  /** 'beam.composite', 'packs.2x6-df-l-no.2-96': the same from set to set while the line is the same. */
  readonly id: string;
  /** The steps that wait for it, first first. */
  readonly steps: readonly MaterialStep[];
  /** The items it is for: 'beam', 'support:left', 'fastening:N1'. */
  readonly sources: readonly string[];
  readonly goods: Goods;
  /** '2x6 DF-L No.2'. */
  readonly item: string;
  /** Pieces that are cut or built in; nails are nails. */
  readonly pieces: number;
  /** Of one piece where all are alike, in. */
  readonly lengthIn?: number;
  /** All cut lengths, in; empty for what isn't cut. */
  readonly cuts: readonly number[];
  /** The shortest stick that still gives its pieces, in. */
  readonly leastLengthIn?: number;
  /** In the unit of the order: without this the step can't be done. */
  readonly needed: number;
  readonly order: {
    /** Allowance for waste and rounding in it. */
    readonly count: number;
    readonly unit: 'piece' | 'bag' | 'lb' | 'each';
    readonly stockLengthIn?: number;
    readonly volumeFt3?: number;
    /** '1 box of 5 lb'. */
    readonly boxes?: string;
  };
  /** How a count comes about. */
  readonly reckoning: readonly string[];
  readonly weightLbEach: number;
  readonly weightLb: number;
  readonly lift?: Lift['how'];
}

/** How lumber of one kind and step is cut. */
export interface CuttingGroup {
  readonly id: string;
  readonly step: MaterialStep;
  readonly item: string;
  readonly cutting: Cutting;
}

export interface MaterialsList {
  readonly lines: readonly MaterialLine[];
  readonly cuttings: readonly CuttingGroup[];
  readonly totalWeightLb: number;
  readonly lifts: readonly Lift[];
  readonly notices: readonly Notice[];
  /** Needed, and not to be had as the proposal says it. */
  readonly unlisted: readonly Unlisted[];
}

/** An 80 lb bag of concrete mix fills 0.60 ft³ (as printed on bags). */
export const BAG_LB = 80;
export const BAG_FT3 = 0.6;
/** A tenth more concrete, sawn sticks and fasteners than the drawing says; beams to the piece. Common practice. */
export const ALLOWANCE = 0.1;

/** Everything to order for one opening: sticks with how to cut them, concrete, fasteners, hangers, weights. */
export function materialsList(input: MaterialsListInput): MaterialsList {
  return listOf([openingNeeds(input)]);
}

/** One list for several openings: like pieces are cut from the same sticks, like fasteners come from the same boxes. */
export function listOf(openings: readonly OpeningNeeds[]): MaterialsList {
  const all = <Need>(of: (needs: OpeningNeeds) => readonly Need[]): Need[] => openings.flatMap(of);
  const lumber = grouped(
    all((needs) => needs.lumber),
    (need) => [need.step, need.size, need.species, need.grade, need.treated ? 'treated' : ''].join(' '),
  ).map(lumberGroup);
  const lines = [
    ...grouped(
      all((needs) => needs.whole),
      (need) => JSON.stringify([need.goods, need.lengthIn]),
    ).map(wholeLine),
    ...lumber.flatMap((group) => group.lines),
    ...grouped(
      all((needs) => needs.concrete),
      (need) => String(need.strengthPsi),
    ).map(concreteLine),
    ...grouped(
      all((needs) => needs.hangers),
      (need) => `${need.joistSize} ${need.listing}`,
    ).map(hangerLine),
    ...grouped(
      all((needs) => needs.fasteners),
      (need) => JSON.stringify(goodsOfFastener(need.fastener)),
    ).map(fastenerLine),
  ];
  const order = (line: MaterialLine) => materialSteps.indexOf(line.steps[0] ?? 'joists');
  const named = withIds(lines.sort((one, other) => order(one) - order(other)));
  return {
    lines: named,
    cuttings: lumber.map((group) => group.cutting),
    totalWeightLb: named.reduce((sum, line) => sum + line.weightLb, 0),
    lifts: all((needs) => needs.lifts),
    notices: all((needs) => needs.notices),
    unlisted: all((needs) => needs.unlisted),
  };
}

function grouped<Need>(needs: readonly Need[], keyOf: (need: Need) => string): [Need, ...Need[]][] {
  const groups = new Map<string, [Need, ...Need[]]>();
  for (const need of needs) {
    const key = keyOf(need);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [need]);
    else group.push(need);
  }
  return [...groups.values()];
}

/** Lines that read alike are told apart by a number. */
function withIds(lines: readonly MaterialLine[]): MaterialLine[] {
  const seen = new Map<string, number>();
  return lines.map((line) => {
    const times = (seen.get(line.id) ?? 0) + 1;
    seen.set(line.id, times);
    return times === 1 ? line : { ...line, id: `${line.id}.${times}` };
  });
}

function idOf(step: MaterialStep, ...words: readonly (string | number)[]): string {
  const slug = words
    .join(' ')
    .toLowerCase()
    .replace(/[^a-z0-9.]+/g, '-')
    .replace(/^-|-$/g, '');
  return `${step}.${slug}`;
}

const sourcesOf = (needs: readonly { readonly sources: readonly string[] }[]): string[] => [
  ...new Set(needs.flatMap((need) => need.sources)),
];

function wholeLine(needs: [WholeNeed, ...WholeNeed[]]): MaterialLine {
  const [first] = needs;
  const { goods, lengthIn, weightPlf, step, label } = first;
  const pieces = needs.reduce((sum, need) => sum + need.pieces, 0);
  const weightLbEach = (weightPlf * goods.lengthIn) / 12;
  return {
    id: idOf(step, goods.kind),
    steps: [step],
    sources: sourcesOf(needs),
    goods,
    item: label,
    pieces,
    lengthIn,
    cuts: Array.from({ length: pieces }, () => lengthIn),
    leastLengthIn: lengthIn,
    needed: pieces,
    order: { count: pieces, unit: 'piece', stockLengthIn: goods.lengthIn },
    reckoning: [],
    weightLbEach,
    weightLb: weightLbEach * pieces,
    lift: howToLift(weightLbEach),
  };
}

function lumberGroup(needs: [LumberNeed, ...LumberNeed[]]): {
  readonly lines: MaterialLine[];
  readonly cutting: CuttingGroup;
} {
  const [{ species, grade, size, treated, weightPlf, step, label }] = needs;
  const piecesIn = needs.flatMap((need) => need.cutsIn);
  const saw = { kerfIn: SAW_KERF_IN, endTrimIn: END_TRIM_IN };
  const cutting = cutFromStock({ piecesIn, stockIn: sawnStockFor(piecesIn, grade), ...saw });
  const lengths = [...new Set(cutting.sticks.map((stick) => stick.stockIn))];
  const item = `${label}${treated ? ', treated' : ''}`;
  const lines = lengths.map((stockIn, index): MaterialLine => {
    const sticks = cutting.sticks.filter((stick) => stick.stockIn === stockIn);
    const cuts = sticks.flatMap((stick) => stick.piecesIn);
    const [piece] = cuts;
    // One stick in ten is crooked, split or miscut; the longest stock replaces any other.
    const spare = index === 0 ? Math.ceil(ALLOWANCE * cutting.sticks.length - 1e-9) : 0;
    const weightLbEach = (weightPlf * stockIn) / 12;
    const count = sticks.length + spare;
    return {
      id: idOf(step, size, species, grade, treated ? 'treated' : '', stockIn),
      steps: [step],
      sources: sourcesOf(needs),
      goods: { kind: 'sawn', species, grade, size, treated, lengthIn: stockIn },
      item,
      pieces: cuts.length,
      ...(piece !== undefined && cuts.every((cut) => cut === piece) ? { lengthIn: piece } : {}),
      cuts,
      leastLengthIn: Math.max(...sticks.map((stick) => usedIn(stick.piecesIn, saw))),
      needed: sticks.length,
      order: { count, unit: 'piece', stockLengthIn: stockIn },
      reckoning: spare === 0 ? [] : [`${spare} more than is cut, for waste`],
      weightLbEach,
      weightLb: weightLbEach * count,
      lift: howToLift(weightLbEach),
    };
  });
  return {
    lines,
    cutting: { id: idOf(step, size, species, grade, treated ? 'treated' : ''), step, item, cutting },
  };
}

function concreteLine(needs: [ConcreteNeed, ...ConcreteNeed[]]): MaterialLine {
  const [{ strengthPsi, step }] = needs;
  const netFt3 = needs.reduce((sum, need) => sum + need.volumeFt3, 0);
  const volumeFt3 = (1 + ALLOWANCE) * netFt3;
  const count = Math.ceil(volumeFt3 / BAG_FT3 - 1e-9);
  const goods = { kind: 'concrete' as const, strengthPsi };
  return {
    id: idOf(step, goodsWords(goods)),
    steps: [step],
    sources: sourcesOf(needs),
    goods,
    item: goodsWords(goods),
    pieces: needs.length,
    cuts: [],
    needed: Math.ceil(netFt3 / BAG_FT3 - 1e-9),
    order: { count, unit: 'bag', volumeFt3 },
    reckoning: [
      `${netFt3.toFixed(2)} ft³ in the ground, a tenth more ordered, ${BAG_FT3} ft³ a bag of ${BAG_LB} lb`,
    ],
    weightLbEach: BAG_LB,
    weightLb: count * BAG_LB,
    lift: howToLift(BAG_LB),
  };
}

function hangerLine(needs: [HangerNeed, ...HangerNeed[]]): MaterialLine {
  const [{ joistSize, listing, step }] = needs;
  const pieces = needs.reduce((sum, need) => sum + need.count, 0);
  const goods = { kind: 'hanger' as const, joistSize, listing };
  return {
    id: idOf(step, goodsWords(goods)),
    steps: [step],
    sources: sourcesOf(needs),
    goods,
    item: goodsWords(goods),
    pieces,
    cuts: [],
    needed: pieces,
    order: { count: pieces, unit: 'each' },
    reckoning: needs.map((need) => need.reckoning),
    // A light hanger for one 2x; the report gives the weight of the one chosen. Common practice.
    weightLbEach: 0.5,
    weightLb: 0.5 * pieces,
  };
}

/** How a fastener is asked for at the counter. */
export function goodsOfFastener(fastener: Fastener): Goods {
  if (fastener.kind === 'nail') {
    const { style, diameterIn, lengthIn } = fastener;
    return { kind: 'nail', style, diameterIn, lengthIn };
  }
  const what =
    fastener.kind === 'structural screw'
      ? `structural screw (${fastener.report})`
      : fastener.kind === 'wood screw'
        ? `No. ${fastener.gauge} wood screw`
        : fastener.kind;
  // Wood screws go by their gauge: D = 0.060 + 0.013 · gauge (ANSI/ASME B18.6.1).
  const diameterIn = fastener.kind === 'wood screw' ? 0.06 + 0.013 * fastener.gauge : fastener.diameterIn;
  return { kind: 'screw or bolt', what: what.slice(0, 60), diameterIn, lengthIn: fastener.lengthIn };
}

function fastenerLine(needs: [FastenerNeed, ...FastenerNeed[]]): MaterialLine {
  const [{ fastener }] = needs;
  const goods = goodsOfFastener(fastener);
  const pieces = needs.reduce((sum, need) => sum + need.count, 0);
  const withAllowance = Math.ceil(pieces * (1 + ALLOWANCE) - 1e-9);
  const steps = materialSteps.filter((step) => needs.some((need) => need.step === step));
  const perPound =
    'diameterIn' in goods && 'lengthIn' in goods ? nailsPerPound(goods.diameterIn, goods.lengthIn) : 1;
  const byWeight = goods.kind === 'nail';
  const pounds = Math.ceil(withAllowance / perPound - 1e-9);
  return {
    id: idOf(steps[0] ?? 'beam', goodsWords(goods)),
    steps,
    sources: sourcesOf(needs),
    goods,
    item: fastenerLabel(fastener),
    pieces,
    cuts: [],
    needed: byWeight ? pieces / perPound : pieces,
    order: byWeight
      ? { count: pounds, unit: 'lb', boxes: boxWords(pounds) }
      : { count: withAllowance, unit: 'each' },
    reckoning: needs.map((need) => need.reckoning),
    weightLbEach: 1 / perPound,
    weightLb: byWeight ? pounds : withAllowance / perPound,
  };
}
