import { refuseOverflow, type BeamAnalysis, type Piece, type Reaction } from './beam-analysis.ts';
import type { BeamLine, Joint } from './beam-line.ts';
import type { BeamLoad } from './beam-loads.ts';
import { AT_REST, marchOver, type March } from './march.ts';
import { placeLoads, stationAt, type PlacedLoads } from './place-loads.ts';
import { solveRedundants, type Member, type MemberEnds, type MemberLoad } from './redundants.ts';

/** A member under its load with its ends free to turn and level, and what is known at its ends. */
interface LoadedMember extends MemberLoad {
  readonly shearFrom: number;
  readonly bendFrom: number;
}

/** What the overhangs bring to the outermost supports, and how far the supports give way. */
interface Surroundings {
  readonly left: March;
  readonly right: March;
  /** EI × settlement of a joint, lb-in³. */
  readonly sagOf: (joint: Joint) => number;
}

/**
 * Solves one load case on a line that was laid out for its loads. Overhangs follow from statics; the members
 * between joints are first loaded as simple spans, then joined by the redundants, then integrated from left
 * to right. Settlements are a load of their own: `withSettlements` adds them to this case.
 */
export function solveCase(
  line: BeamLine,
  loads: readonly BeamLoad[],
  withSettlements: boolean,
): BeamAnalysis {
  const { model, first, last, redundants } = line;
  const placed = placeLoads(line, loads);
  const tip = tipOfLeftOverhang(placed, first);
  const left = marchOver(placed, 0, first.breakIndex, tip);
  const right = rootOfRightOverhang(placed, last, model.lengthIn);
  const sagOf = (joint: Joint): number => (withSettlements ? joint.settlementIn * model.ei : 0);

  const loaded = redundants.members.map((member) => loadMember(line, placed, member, { left, right, sagOf }));
  const ends = solveRedundants(redundants, loaded);
  const starts = loaded.map((member, index) => startOf(member, ends[index] ?? member.known, model.lengthIn));

  const pieces: Piece[] = [];
  const reactions: Reaction[] = model.supports.map(({ atIn }) => ({ atIn, forceLb: 0, momentLbIn: 0 }));
  const track = { pieces, ei: model.ei };
  const react = (joint: Joint, before: March, after: March): void => {
    if (joint.supportIndex === undefined) return;
    const { pointLb, coupleLbIn } = stationAt(placed.stations, joint.breakIndex);
    reactions[joint.supportIndex] = {
      atIn: joint.atIn,
      forceLb: after.shear - before.shear + pointLb,
      momentLbIn: joint.kind === 'fixed' ? after.moment - before.moment - coupleLbIn : 0,
    };
  };

  // The left overhang hangs on the first support: its tip turns and drops so that its root meets that support.
  // A support without a member beside it is fixed, and so is the beam's direction there.
  const bend = (starts[0]?.bend ?? 0) - left.bend;
  const sag = sagOf(first) - left.sag - bend * first.atIn;
  let before = marchOver(placed, 0, first.breakIndex, { ...tip, bend, sag }, track);
  for (const [index, { from, to }] of redundants.members.entries()) {
    const start = starts[index] ?? AT_REST;
    react(from, before, start);
    before = marchOver(placed, from.breakIndex, to.breakIndex, start, track);
  }
  const root = { ...right, bend: before.bend, sag: sagOf(last) };
  react(last, before, root);
  marchOver(placed, last.breakIndex, placed.stretches.length, root, track);

  const analysis = { line, pieces, reactions };
  refuseOverflow(analysis);
  return analysis;
}

/** Just right of the free left end, level; nothing where a support stands there. */
function tipOfLeftOverhang({ stations }: PlacedLoads, first: Joint): March {
  if (first.breakIndex === 0) return AT_REST;
  const { pointLb, coupleLbIn } = stationAt(stations, 0);
  return { ...AT_REST, shear: -pointLb, moment: coupleLbIn };
}

/** Just right of the last support, such that nothing is left at the free right end. */
function rootOfRightOverhang(placed: PlacedLoads, last: Joint, lengthIn: number): March {
  const end = placed.stretches.length;
  if (last.breakIndex === end) return AT_REST;
  const free = marchOver(placed, last.breakIndex, end, AT_REST);
  const tip = stationAt(placed.stations, end);
  const shear = tip.pointLb - free.shear;
  const moment = -free.moment - tip.coupleLbIn - shear * (lengthIn - last.atIn);
  return { ...AT_REST, shear, moment };
}

function loadMember(
  { first, last, model: { lengthIn } }: BeamLine,
  placed: PlacedLoads,
  member: Member,
  { left, right, sagOf }: Surroundings,
): LoadedMember {
  const { from, to, lengthIn: span } = member;
  const free = marchOver(placed, from.breakIndex, to.breakIndex, AT_REST);
  const shearFrom = -free.moment / span;
  const bendFrom = (shearFrom * span * span) / 6 - free.sag / span;
  const bendTo = free.bend + bendFrom - (shearFrom * span * span) / 2;
  const shearTo = shearFrom + free.shear;
  const atFrom = stationAt(placed.stations, from.breakIndex);
  const atTo = stationAt(placed.stations, to.breakIndex);
  const dropScale = 6 / (lengthIn * lengthIn);
  // Beside a fixed support the moment is unknown: whatever is put here, the unknown makes up for it.
  const known: MemberEnds = [
    atFrom.coupleLbIn + (from === first ? left.moment : 0),
    to === last ? right.moment - atTo.coupleLbIn : 0,
    sagOf(from) * dropScale,
    sagOf(to) * dropScale,
  ];
  // A point load on a hinge is handed to its right-hand member; at a support the row is not used.
  const loaded: MemberEnds = [
    (6 * bendFrom) / lengthIn,
    (-6 * bendTo) / lengthIn,
    (shearFrom + atFrom.pointLb) * lengthIn,
    -shearTo * lengthIn,
  ];
  return { member, known, loaded, shearFrom, bendFrom };
}

/** Just right of a member's left end, once its end moments and drops are known. */
function startOf({ member, shearFrom, bendFrom }: LoadedMember, ends: MemberEnds, lengthIn: number): March {
  const [momentFrom, momentTo, dropFrom, dropTo] = ends;
  const span = member.lengthIn;
  const perDrop = (lengthIn * lengthIn) / 6;
  return {
    shear: shearFrom + (momentTo - momentFrom) / span,
    moment: momentFrom,
    bend: bendFrom + (span * (2 * momentFrom + momentTo)) / 6 + ((dropTo - dropFrom) * perDrop) / span,
    sag: dropFrom * perDrop,
  };
}
