import { layOutOpening, type BeamPiece, type OpeningLayout } from '../layout/index.ts';
import type { Beam, Footing, Member, Shoring, Support } from '../proposal/design.ts';
import type { Survey } from '../proposal/survey.ts';
import type { Editions } from '../trace/index.ts';
import { woodMember } from '../wood/index.ts';
import type { Goods } from './called-for.ts';
import { fastenerNeeds, hangerNeeds, type KeyedHanger, type KeyedRow } from './fastener-needs.ts';
import type { LumberNeed, OpeningNeeds, WholeNeed } from './needs.ts';
import { shoringPieces } from './shoring-pieces.ts';
import { COMPOSITE_STOCK_IN, isTooLongForGrade, sawnStockFor, stockLengthIn } from './stock.ts';
import { boughtLumber, boughtWhole } from './too-long.ts';

/** What of an opening is decided; a partial set has no beam, or no shoring, yet. */
export interface MaterialsListInput {
  readonly survey: Survey;
  readonly beam?: Beam;
  readonly supports: readonly Support[];
  readonly footings: readonly Footing[];
  readonly shoring?: Shoring;
  readonly rows?: readonly KeyedRow[];
  readonly hangers?: readonly KeyedHanger[];
  readonly editions: Editions;
  readonly measuredPlyIn?: number;
}

/**
 * What an opening needs, item by item. Packs are listed once the beam is there: their layout follows it.
 * Refuses what the layout refuses, and pieces longer than all stock.
 */
export function openingNeeds(input: MaterialsListInput): OpeningNeeds {
  const { survey, beam, supports, shoring, editions } = input;
  const { rows = [], hangers = [] } = input;
  const layout =
    beam === undefined
      ? undefined
      : layOutOpening({
          survey,
          beam,
          supports,
          footings: input.footings,
          editions,
          ...(input.measuredPlyIn === undefined ? {} : { measuredPlyIn: input.measuredPlyIn }),
        });
  const beamLengthIn = layout?.beam.lengthIn ?? survey.openingToIn - survey.openingFromIn;
  const hanging = hangerNeeds(hangers, beamLengthIn);
  const occurrence = {
    ...(beam === undefined ? {} : { beam }),
    beamLengthIn,
    supports,
    survey,
    hangers,
    temporaryStuds:
      shoring === undefined ? 0 : shoringPieces(shoring, beamLengthIn, survey.wallHeightIn).studsIn.length,
  };
  const { lumber, unlisted } = boughtLumber([
    ...(shoring === undefined ? [] : shoringNeeds(shoring, beamLengthIn, survey.wallHeightIn, editions)),
    ...(layout === undefined ? [] : supports.flatMap((support) => packNeeds(support, layout, editions))),
  ]);
  const plies = boughtWhole(layout === undefined || beam === undefined ? [] : beamNeeds(layout, beam.member));
  return {
    whole: plies.whole,
    lumber,
    concrete: input.footings.flatMap(({ pad, concretePsi, end }) =>
      pad === undefined
        ? []
        : [
            {
              step: 'footings' as const,
              sources: [`footing:${end}`],
              strengthPsi: concretePsi,
              volumeFt3: (pad.widthIn * pad.lengthIn * pad.thicknessIn) / 1728,
            },
          ],
    ),
    fasteners: [
      // Nails of hangers are in their line already.
      ...fastenerNeeds(
        hangers.length === 0 ? rows : rows.filter(({ row }) => row.joint !== 'joist hanger'),
        occurrence,
      ),
      ...hanging.nails,
    ],
    hangers: hanging.hangers,
    lifts: layout?.lifts ?? [],
    notices: layout?.notices ?? [],
    unlisted: [...unlisted, ...plies.unlisted],
  };
}

function beamNeeds(layout: OpeningLayout, member: Member): WholeNeed[] {
  const { lengthIn, pieces } = layout.beam;
  return pieces.map((piece) => {
    const goods = beamGoods(member, piece);
    const stockIn =
      goods.kind === 'steel shape' ||
      goods.kind === 'steel plate' ||
      (goods.kind === 'sawn' && isTooLongForGrade(lengthIn, goods.grade))
        ? lengthIn
        : stockLengthIn(
            lengthIn,
            goods.kind === 'sawn' ? sawnStockFor([lengthIn], goods.grade) : COMPOSITE_STOCK_IN,
            'beam',
          );
    return {
      step: 'beam',
      sources: ['beam'],
      goods: { ...goods, lengthIn: stockIn },
      label: piece.label,
      pieces: piece.count,
      lengthIn,
      weightPlf: piece.weightPlf,
    };
  });
}

type Sticks = Extract<Goods, { lengthIn: number }>;

function beamGoods(member: Member, piece: BeamPiece): Sticks {
  const { thicknessIn, depthIn } = piece;
  if (piece.material === 'steel plate') return { kind: 'steel plate', thicknessIn, depthIn, lengthIn: 0 };
  switch (member.kind) {
    case 'steel':
      return { kind: 'steel shape', shape: member.shape, fyKsi: member.fyKsi, lengthIn: 0 };
    case 'composite':
      return { kind: 'composite', class: member.class, thicknessIn, depthIn, lengthIn: 0 };
    case 'glulam':
      return { kind: 'glulam', combination: member.combination, thicknessIn, depthIn, lengthIn: 0 };
    case 'sawn':
    case 'flitch':
      return {
        kind: 'sawn',
        species: member.species,
        grade: member.grade,
        size: member.size,
        treated: false,
        lengthIn: 0,
      };
  }
}

interface Lumber {
  readonly species: string;
  readonly grade: string;
  readonly size: string;
}

function lumberNeed(
  step: LumberNeed['step'],
  source: string,
  lumber: Lumber,
  cutsIn: readonly number[],
  editions: Editions,
  treated = false,
): LumberNeed[] {
  if (cutsIn.length === 0) return [];
  const { species, grade, size } = lumber;
  const { label, weightPlf } = woodMember(
    { kind: 'sawn', species, grade, size, plies: 1 },
    editions.nds,
    source,
  );
  return [{ step, sources: [source], species, grade, size, treated, label, weightPlf, cutsIn }];
}

function packNeeds(support: Support, layout: OpeningLayout, editions: Editions): LumberNeed[] {
  const source = `support:${support.end}`;
  const pack = layout.packs.find((one) => one.end === support.end);
  const { squashBlocks, girderPost } = support;
  return [
    ...lumberNeed('packs', source, support, pack?.plies.map((ply) => ply.lengthIn) ?? [], editions),
    ...(squashBlocks === undefined
      ? []
      : lumberNeed(
          'packs',
          source,
          squashBlocks,
          Array.from({ length: squashBlocks.count }, () => squashBlocks.heightIn),
          editions,
        )),
    // A post near the ground is treated (IRC R317.1.4 and its exceptions, from memory).
    ...(girderPost === undefined
      ? []
      : lumberNeed('packs', source, girderPost, [girderPost.heightIn], editions, true)),
  ];
}

function shoringNeeds(
  shoring: Shoring,
  beamLengthIn: number,
  wallHeightIn: number,
  editions: Editions,
): LumberNeed[] {
  const { studsIn, longIn } = shoringPieces(shoring, beamLengthIn, wallHeightIn);
  const lumber = { species: shoring.species, grade: shoring.grade, size: shoring.studSize };
  return lumberNeed('shoring', 'shoring', lumber, [...studsIn, ...longIn], editions);
}
