import type { Beam, Footing, Support } from '../proposal/design.ts';
import type { Survey } from '../proposal/survey.ts';
import { positive, refuseUnless, type Editions, type Notice } from '../trace/index.ts';
import { formatFeetInches } from '../units/index.ts';
import { beamOutline, type BeamOutline } from './beam-outline.ts';
import { beamLifts, liftingNotices, type Lift } from './lifting.ts';
import { DRESSED_2X_IN, MEASURED, measuredPly, toSixteenth } from './measured.ts';
import { packAt, type Pack } from './packs.ts';

export interface LayoutMark {
  readonly id: string;
  /** Exact, from the datum. */
  readonly atIn: number;
  /** To the sixteenth, as the tape shows it: 1'-8 3/16". */
  readonly tape: string;
  readonly kind: 'edge' | 'centre' | 'cut';
  readonly label: string;
  /** In the order one meets them with a tape pulled once from the datum. */
  readonly order: number;
}

export interface LayoutPiece {
  readonly kind: 'jack' | 'king' | 'post' | 'beam' | 'plate' | 'pad';
  readonly label: string;
  readonly fromIn: number;
  readonly toIn: number;
  readonly bottomIn: number;
  readonly topIn: number;
}

export interface OpeningLayoutInput {
  readonly survey: Pick<
    Survey,
    'datum' | 'wallLengthIn' | 'wallHeightIn' | 'wallThicknessIn' | 'openingFromIn' | 'openingToIn'
  >;
  readonly beam: Beam;
  readonly supports: readonly Support[];
  readonly footings: readonly Footing[];
  readonly editions: Editions;
  /** One 2x ply as measured in a pack; omitted: 1.55 in. */
  readonly measuredPlyIn?: number;
}

export interface OpeningLayout {
  readonly datum: string;
  readonly wallLengthIn: number;
  readonly wallHeightIn: number;
  readonly wallThicknessIn: number;
  readonly opening: { readonly fromIn: number; readonly toIn: number };
  readonly plyIn: number;
  readonly beam: BeamOutline & {
    readonly fromIn: number;
    readonly toIn: number;
    readonly lengthIn: number;
    readonly undersideIn: number;
    readonly placement: 'flush' | 'dropped';
  };
  readonly packs: readonly Pack[];
  readonly pieces: readonly LayoutPiece[];
  readonly marks: readonly LayoutMark[];
  /** From the middle of the wall to where joists are cut, flush beams only. */
  readonly joistCutFromMiddleIn?: number;
  readonly lifts: readonly Lift[];
  readonly notices: readonly Notice[];
}

/** Room between a cut joist and the beam that it hangs from; hangers allow no more than 1/8 in. Common practice. */
export const JOIST_GAP_IN = 1 / 16;
const TOP_PLATES = 2;
/** Marks closer than this are one mark on a tape. */
const SAME_PLACE_IN = 1 / 32;

/**
 * Where everything goes along the wall, from one datum: faces of the opening, every jack and king, beam ends, cuts of
 * the plates, with lumber as thick as measured. The beam's length follows the design, not the tape: what the marks
 * say of its seat is put beside it as a notice.
 * Refuses an opening off the wall, packs or beam that reach past its ends, and unknown lumber.
 */
export function layOutOpening(input: OpeningLayoutInput): OpeningLayout {
  const { survey, beam, editions } = input;
  const plyIn = measuredPly(input.measuredPlyIn, 'measuredPlyIn');
  const wallLengthIn = positive(survey.wallLengthIn, 'survey.wallLengthIn');
  const wallHeightIn = positive(survey.wallHeightIn, 'survey.wallHeightIn');
  const opening = { fromIn: survey.openingFromIn, toIn: survey.openingToIn };
  refuseUnless(
    opening.fromIn >= 0 && opening.toIn > opening.fromIn && opening.toIn <= wallLengthIn,
    'survey.openingToIn',
    'The opening must lie within the wall, its right face right of its left face.',
  );
  const fromIn = opening.fromIn - positive(beam.bearingLeftIn, 'beam.bearingLeftIn');
  const toIn = opening.toIn + positive(beam.bearingRightIn, 'beam.bearingRightIn');
  refuseUnless(fromIn >= 0, 'beam.bearingLeftIn', 'The beam would reach past the left end of the wall.');
  refuseUnless(
    toIn <= wallLengthIn,
    'beam.bearingRightIn',
    'The beam would reach past the right end of the wall.',
  );
  refuseUnless(
    new Set(input.supports.map((support) => support.end)).size === input.supports.length,
    'supports',
    'Each end of the beam has one support.',
  );
  const outline = beamOutline(beam.member, editions, plyIn);
  const kingLengthIn = wallHeightIn - (TOP_PLATES + 1) * DRESSED_2X_IN;
  const packs = input.supports.map((support) =>
    packAt(
      support,
      support.end === 'left' ? opening.fromIn : opening.toIn,
      wallLengthIn,
      kingLengthIn,
      plyIn,
    ),
  );
  const height = Math.max(...packs.map((pack) => pack.heightIn), 0);
  const undersideIn = height > 0 ? height + DRESSED_2X_IN : undersideByPlacement(beam, outline, wallHeightIn);
  const laid = {
    ...outline,
    fromIn,
    toIn,
    lengthIn: toIn - fromIn,
    undersideIn,
    placement: beam.placement,
  };
  const lifts = beamLifts(outline, laid.lengthIn);
  return {
    datum: survey.datum,
    wallLengthIn,
    wallHeightIn,
    wallThicknessIn: survey.wallThicknessIn,
    opening,
    plyIn,
    beam: laid,
    packs,
    pieces: piecesOf(laid, packs, input.footings, opening, wallLengthIn, wallHeightIn),
    marks: marksOf(laid, packs, opening),
    ...(beam.placement === 'flush' ? { joistCutFromMiddleIn: outline.widthIn / 2 + JOIST_GAP_IN } : {}),
    lifts,
    notices: [...seatNotices(packs, beam, laid), ...liftingNotices(lifts)],
  };
}

/** Before supports are known: a dropped beam hangs under the top plates, a flush one starts at them. */
function undersideByPlacement(beam: Beam, outline: BeamOutline, wallHeightIn: number): number {
  const underPlates = wallHeightIn - TOP_PLATES * DRESSED_2X_IN;
  return beam.placement === 'dropped' ? underPlates - outline.depthIn : underPlates;
}

function piecesOf(
  beam: OpeningLayout['beam'],
  packs: readonly Pack[],
  footings: readonly Footing[],
  opening: OpeningLayout['opening'],
  wallLengthIn: number,
  wallHeightIn: number,
): LayoutPiece[] {
  const plate = (
    label: string,
    fromIn: number,
    toIn: number,
    bottomIn: number,
    plates: number,
  ): LayoutPiece => ({
    kind: 'plate',
    label,
    fromIn,
    toIn,
    bottomIn,
    topIn: bottomIn + plates * DRESSED_2X_IN,
  });
  const topIn = wallHeightIn - TOP_PLATES * DRESSED_2X_IN;
  const cut = beam.placement === 'flush';
  const pieces = [
    plate('bottom plate', 0, opening.fromIn, 0, 1),
    plate('bottom plate', opening.toIn, wallLengthIn, 0, 1),
    ...(cut
      ? [
          plate('top plates', 0, beam.fromIn, topIn, TOP_PLATES),
          plate('top plates', beam.toIn, wallLengthIn, topIn, TOP_PLATES),
        ]
      : [plate('top plates', 0, wallLengthIn, topIn, TOP_PLATES)]),
    ...packs.flatMap((pack) =>
      pack.plies.map((ply) => ({
        kind: ply.kind,
        label: ply.label,
        fromIn: ply.fromIn,
        toIn: ply.toIn,
        bottomIn: DRESSED_2X_IN,
        topIn: DRESSED_2X_IN + ply.lengthIn,
      })),
    ),
    {
      kind: 'beam' as const,
      label: beam.pieces
        .map((piece) => `${piece.count > 1 ? `${piece.count} x ` : ''}${piece.label}`)
        .join(' + '),
      fromIn: beam.fromIn,
      toIn: beam.toIn,
      bottomIn: beam.undersideIn,
      topIn: beam.undersideIn + beam.depthIn,
    },
    ...footings.flatMap((footing): LayoutPiece[] => {
      const pack = packs.find((one) => one.end === footing.end);
      if (footing.pad === undefined || pack === undefined) return [];
      const middle = seatMiddleIn(pack);
      return [
        {
          kind: 'pad',
          label: `${footing.end} pad`,
          fromIn: middle - footing.pad.lengthIn / 2,
          toIn: middle + footing.pad.lengthIn / 2,
          bottomIn: -footing.pad.thicknessIn,
          topIn: 0,
        },
      ];
    }),
  ];
  return pieces.filter((piece) => piece.toIn > piece.fromIn && piece.topIn > piece.bottomIn);
}

/** A pad lies centred under what carries the beam (the kings carry none of it), so that it presses evenly. */
function seatMiddleIn(pack: Pack): number {
  return pack.end === 'left' ? pack.toIn - pack.seatIn / 2 : pack.fromIn + pack.seatIn / 2;
}

function marksOf(
  beam: OpeningLayout['beam'],
  packs: readonly Pack[],
  opening: OpeningLayout['opening'],
): LayoutMark[] {
  const found: Omit<LayoutMark, 'order' | 'tape'>[] = [];
  const mark = (id: string, atIn: number, kind: LayoutMark['kind'], label: string) =>
    found.push({ id, atIn, kind, label });
  mark('cut.bottom-plate.left', opening.fromIn, 'cut', 'bottom plate, left face of the opening');
  mark('cut.bottom-plate.right', opening.toIn, 'cut', 'bottom plate, right face of the opening');
  if (beam.placement === 'flush') {
    mark('cut.top-plate.left', beam.fromIn, 'cut', 'top plates, left end of the beam');
    mark('cut.top-plate.right', beam.toIn, 'cut', 'top plates, right end of the beam');
  }
  mark('beam.left', beam.fromIn, 'edge', 'beam, left end');
  mark('beam.right', beam.toIn, 'edge', 'beam, right end');
  mark('opening.middle', (opening.fromIn + opening.toIn) / 2, 'centre', 'middle of the opening');
  for (const pack of packs) {
    const outer = pack.end === 'left' ? ('fromIn' as const) : ('toIn' as const);
    for (const ply of pack.plies) mark(ply.id, ply[outer], 'edge', `${ply.label}, far edge`);
    const stands = pack.plies.some((ply) => ply.kind === 'post') ? 'post' : 'jacks';
    mark(`${pack.end}.seat.middle`, seatMiddleIn(pack), 'centre', `${pack.end} ${stands} and pad, middle`);
  }
  const sorted = found.sort((a, b) => a.atIn - b.atIn || a.id.localeCompare(b.id));
  return sorted.map((entry, index) => ({
    ...entry,
    tape: formatFeetInches(toSixteenth(entry.atIn), { to: 16 }),
    order: index + 1,
  }));
}

function seatNotices(packs: readonly Pack[], beam: Beam, laid: OpeningLayout['beam']): Notice[] {
  const notices: Notice[] = [];
  const tape = (inches: number) => formatFeetInches(inches, { to: 16 });
  for (const pack of packs) {
    const wanted = pack.end === 'left' ? beam.bearingLeftIn : beam.bearingRightIn;
    if (pack.seatIn + SAME_PLACE_IN < wanted) {
      notices.push({
        id: `layout.${pack.end}.short-seat`,
        severity: 'caution',
        text: `The ${pack.end} pack gives the beam ${tape(pack.seatIn)} to sit on; the design counts on ${tape(wanted)}.`,
        clause: MEASURED,
      });
    } else if (pack.seatIn - wanted > SAME_PLACE_IN) {
      notices.push({
        id: `layout.${pack.end}.gap`,
        severity: 'note',
        text: `As measured the ${pack.end} pack is ${tape(pack.seatIn)} long and the beam sits on ${tape(wanted)} of it: cut the beam ${tape(pack.seatIn - wanted)} longer there to meet the king.`,
        clause: MEASURED,
      });
    }
    if (Math.abs(pack.heightIn + DRESSED_2X_IN - laid.undersideIn) > SAME_PLACE_IN) {
      notices.push({
        id: `layout.${pack.end}.height`,
        severity: 'caution',
        text: `The ${pack.end} pack is lower than the other: the beam would not be level, or the floor is not. Measure both.`,
        clause: MEASURED,
      });
    }
  }
  return notices;
}
