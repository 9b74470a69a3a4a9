import type {
  BeamFastening,
  FasteningContext,
  PackFastening,
  ShoringFastening,
} from '../fasteners/connections/context.ts';
import { proposeRows } from '../fasteners/connections/propose.ts';
import type { DeclaredAnchor, FasteningRow, Joint, Listing } from '../fasteners/schedule/row.ts';
import { checkShoring } from '../shoring/index.ts';
import { Refusal, type Notice } from '../trace/index.ts';
import { woodMember } from '../wood/index.ts';
import { calculateBeam, type BeamOutcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Footing, Hanger, Shoring, Support } from './design.ts';
import { faceLoads, hangerLines, hangingStrips, topLoadPlf } from './fastening/faces.ts';
import { beamPlies, packPieces, pieceOf, undescribedPiece, type BeamPlies } from './fastening/pieces.ts';
import { braceFeet, tieLine } from './fastening/roof.ts';
import { kingWindLbPerIn } from './kings.ts';
import { endReactions } from './support.ts';
import type { Survey } from './survey.ts';

/** The design of one opening, as far as its fastening asks for it. */
export interface FasteningDesign {
  readonly criteria: Criteria;
  readonly survey: Survey;
  readonly beam: Beam;
  readonly supports: readonly Support[];
  readonly footings?: readonly Footing[];
  readonly shoring?: Shoring;
  /** Hanger lines: their joists and listings come before what is typed into rows. */
  readonly hangers?: readonly Hanger[];
  /** Duplex nails unless chosen. */
  readonly shoringFastener?: ShoringFastening['fastener'];
  /** Rows that are there: listings and anchor values typed into them are kept. */
  readonly entered?: readonly FasteningRow[];
}

export interface FasteningProposal {
  readonly context: FasteningContext;
  /** What was taken for want of better knowledge, and what is left to be entered by hand. */
  readonly notices: readonly Notice[];
}

/**
 * What the joints of an opening have to carry, from its newest design: side loads and joist ends of a flush beam, the
 * packs' reactions, uplift and wind, the rafters' thrust, the braces' push, the shores. Wood that the survey does not
 * describe is taken as the lightest and least there is, and said so.
 *
 * @throws Refusal with the path of the entry of survey, beam or support that can't be
 */
export function fasteningContext(
  design: FasteningDesign,
  outcome: Pick<BeamOutcome, 'actions'> = calculateBeam(design.survey, design.criteria, design.beam),
): FasteningProposal {
  const { criteria, survey, beam } = design;
  const { editions } = criteria;
  const { actions } = outcome;
  const flush = beam.placement === 'flush';
  const plies = beamPlies(beam.member, editions);
  const joist = undescribedPiece('joist', '2x6', editions);
  const brace = undescribedPiece('brace', '2x4', editions);
  const ties = flush ? tieLine(survey, criteria, joist) : undefined;
  const plate = design.supports[0] === undefined ? undefined : packPieces(design.supports[0], editions).plate;
  const hangers =
    flush && plies !== undefined
      ? hangerLines(actions, editions, joist, (side) => hangerListing(design, side))
      : [];
  const braces = plies === undefined ? [] : braceFeet(survey, criteria, actions, brace, plies.ply);
  const shoring = shoringOf(design);
  return {
    context: {
      editions,
      conditions: { madeWhen: 'dry', usedWhen: beam.wet === true ? 'wet' : 'dry', temperatureF: 75 },
      ...(plies === undefined ? {} : { beam: beamOf(design, plies, actions) }),
      packs: design.supports.map((support) => packOf(design, support, actions)),
      hangers,
      ...(ties === undefined ? {} : { ties }),
      // A flush beam lies where the top plate was; under a dropped one the plate runs on.
      ...(flush && plate !== undefined
        ? { topPlate: { plate, chordLb: 0, durationFactor: 1.6, closedBy: 'strap' } as const }
        : {}),
      braces,
      ...(shoring.context === undefined ? {} : { shoring: shoring.context }),
    },
    notices: [
      ...designNotices(design, plies, outcome),
      ...(ties !== undefined || braces.length > 0 ? [undescribedNotice(joist.species)] : []),
      ...shoring.notices,
    ],
  };
}

/** The rows that the design asks for, each computed from the opening's own demands. Throws as `fasteningContext`. */
export function proposeFastening(design: FasteningDesign): {
  readonly rows: readonly FasteningRow[];
  readonly notices: readonly Notice[];
} {
  const { context, notices } = fasteningContext(design);
  return { rows: proposeRows(context), notices };
}

function beamOf(
  { criteria, beam }: FasteningDesign,
  { ply, plies }: BeamPlies,
  actions: BeamOutcome['actions'],
): BeamFastening {
  const flush = beam.placement === 'flush';
  const faces = faceLoads(actions, criteria.editions);
  const nothing = { totalPlf: 0, deadPlf: 0 };
  return {
    ply,
    plies,
    lengthIn: actions.geometry.lengthIn,
    // Joists that run on over a dropped beam load all plies at once.
    front: flush ? faces.front : nothing,
    rear: flush ? faces.rear : nothing,
    topPlf: topLoadPlf(actions, faces.governing, flush),
    durationFactor: faces.governing.durationFactor,
    combination: faces.governing.combination,
  };
}

function packOf(design: FasteningDesign, support: Support, actions: BeamOutcome['actions']): PackFastening {
  const { criteria, survey } = design;
  const { stud, plate } = packPieces(support, criteria.editions);
  const reactions = endReactions(actions, support.end);
  const worst = reactions.reduce((most, one) => (one.forceLb > most.forceLb ? one : most));
  const builtUp = support.kind === 'built-up';
  const listing = listingIn(design, `beam-seat-${support.end}`, 'beam seat');
  const concrete = concreteUnder(design, support, plate.widthIn);
  return {
    end: support.end,
    stud,
    plate,
    jacks: builtUp ? support.jacks : 1,
    kings: support.kings,
    countedAsOneColumn: builtUp && support.jacks > 1 && support.fastening !== 'not qualifying',
    kingsThatCarry: 0,
    heightIn: support.heightIn,
    reactionLb: Math.max(0, worst.forceLb),
    reactionDurationFactor: worst.loadDuration,
    reactionCombination: worst.name,
    upliftLb: Math.max(0, ...reactions.map((one) => -one.forceLb)),
    // Kings span from floor to ceiling: half of their wind at either end.
    kingLateralLb: (kingWindLbPerIn(survey, criteria) * survey.wallHeightIn) / 2,
    ...(listing === undefined ? {} : { seatListing: listing }),
    ...(concrete === undefined ? {} : { concrete }),
  };
}

/** Concrete under the plate, where the wall stands on it and its thickness was found. */
function concreteUnder(
  design: FasteningDesign,
  { end }: Support,
  plateWidthIn: number,
): PackFastening['concrete'] {
  const footing = design.footings?.find((one) => one.end === end);
  if (design.survey.below !== 'slab' || footing === undefined) return undefined;
  const { pad } = footing;
  const thicknessIn = pad?.thicknessIn ?? footing.foundThicknessIn;
  const widthIn = pad === undefined ? footing.foundWidthIn : Math.min(pad.widthIn, pad.lengthIn);
  if (thicknessIn <= 0 || widthIn <= 0) return undefined;
  const declared = anchorIn(design, `sole-anchor-${end}`);
  return {
    thicknessIn,
    // The plate of an exterior wall lies along the edge of the slab.
    edgeDistanceIn: design.survey.wallIsExterior ? plateWidthIn / 2 : widthIn / 2,
    ...(declared === undefined ? {} : { declared }),
  };
}

/** The row that stands for a proposed one: by its name, else the only one of its joint. */
export function rowFor(rows: readonly FasteningRow[], id: string, joint: Joint): FasteningRow | undefined {
  const named = rows.find((row) => row.id === id);
  if (named !== undefined) return named;
  const ofJoint = rows.filter((row) => row.joint === joint);
  return ofJoint.length === 1 ? ofJoint[0] : undefined;
}

function listingIn(design: FasteningDesign, id: string, joint: Joint): Listing | undefined {
  const row = rowFor(design.entered ?? [], id, joint);
  return row?.basis.kind === 'listing' ? row.basis.listing : undefined;
}

function hangerListing(design: FasteningDesign, side: Hanger['side']): Listing | undefined {
  const line = design.hangers?.find((one) => one.side === side && one.listing !== undefined);
  return line?.listing ?? listingIn(design, `hangers-${side}`, 'joist hanger');
}

function anchorIn(design: FasteningDesign, id: string): DeclaredAnchor | undefined {
  const row = rowFor(design.entered ?? [], id, 'sole plate anchor');
  return row?.basis.kind === 'anchor' ? row.basis.declared : undefined;
}

function shoringOf(design: FasteningDesign): {
  readonly context?: ShoringFastening;
  readonly notices: readonly Notice[];
} {
  const { criteria, survey, beam, footings, shoring, shoringFastener } = design;
  if (shoring === undefined) return { notices: [] };
  const { species, grade, studSize } = shoring;
  try {
    const { walls } = checkShoring({
      survey,
      criteria,
      shoring,
      joistsCut: beam.placement === 'flush',
      newPads: (footings ?? []).some((footing) => footing.pad !== undefined),
    });
    const studLoadLb = Math.max(0, ...walls.map((wall) => wall.studLoadLb));
    if (studLoadLb === 0) return { notices: [] };
    const { editions } = criteria;
    const lumber = { kind: 'sawn', species, grade, plies: 1 } as const;
    const stud = woodMember({ ...lumber, size: studSize }, editions.nds, 'shoring');
    const width = studSize.slice(studSize.indexOf('x') + 1);
    const plate = woodMember({ ...lumber, size: `2x${width}` }, editions.nds, 'shoring');
    return {
      context: {
        stud: pieceOf('shore', stud),
        plate: pieceOf('temporary plate', plate),
        studLoadLb,
        fastener: shoringFastener ?? 'duplex nails',
      },
      notices: [],
    };
  } catch (error) {
    // The permanent joints do not wait for a shoring plan that can't be yet.
    if (!(error instanceof Refusal)) throw error;
    return {
      notices: [
        { id: 'fastening.shoring', severity: 'caution', text: `No row for the shoring: ${error.message}` },
      ],
    };
  }
}

function designNotices(
  { survey, beam, supports }: FasteningDesign,
  plies: BeamPlies | undefined,
  { actions }: Pick<BeamOutcome, 'actions'>,
): Notice[] {
  const notices: Notice[] = [];
  if (plies === undefined) {
    notices.push({
      id: 'fastening.steel',
      severity: 'caution',
      text: 'The beam is steel: its joists, braces and seats are bolted, welded or nailed to a nailer. Enter these rows by hand.',
    });
  }
  if (beam.placement === 'flush' && hangingStrips(actions).length > 1) {
    notices.push({
      id: 'fastening.faces',
      severity: 'note',
      text: `Counted as hanging on the beam’s faces, all of them: ${hangingStrips(actions)
        .map((strip) => strip.label)
        .join(
          ', ',
        )}. What comes down through a wall above instead loads the top, which asks less of the plies.`,
    });
  }
  for (const end of ['left', 'right'] as const) {
    if (supports.some((support) => support.end === end)) continue;
    notices.push({
      id: `fastening.no-${end}`,
      severity: 'caution',
      text: `There is no ${end} support yet: its rows are missing.`,
    });
  }
  if (survey.wallsAbove.length > 0 && beam.placement === 'flush') {
    notices.push({
      id: 'fastening.chord',
      severity: 'note',
      text: 'No chord or drag force is computed for the top plate that is cut: the strap is the code’s own. The engineer says where more is needed.',
    });
  }
  return notices;
}

function undescribedNotice(species: string): Notice {
  return {
    id: 'fastening.undescribed',
    severity: 'note',
    text: `Joists and braces are not described in the survey: 2x6 and 2x4, ${species}. Enter what the stamp says in the row.`,
  };
}
