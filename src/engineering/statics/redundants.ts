import type { Joint } from './beam-line.ts';
import { factor, solve, type FactoredSystem } from './linear-system.ts';

/**
 * The unknowns that statics alone does not give, in the mixed form of the three-moment method: the moment
 * over every pin that the beam runs across, the moment on each side of a fixed support, the drop of every
 * hinge. Their equations: the beam does not kink over a pin, does not turn at a fixed support, and what one
 * side of a hinge hands over the other side takes. A beam on two pins has no unknowns and solves nothing.
 * The matrix depends on the arrangement only, so it is reduced once and serves every load case.
 * (Mechanics: theorem of three moments with settlements.)
 *
 * A drop w enters as u = 6·EI·w/L², a moment like the others, L being the length of the beam. So the matrix
 * holds plain ratios of lengths, and beams of 1 in and of 200 ft are solved alike.
 */
export interface Redundants {
  readonly members: readonly Member[];
  readonly system: FactoredSystem;
}

/** The beam between two neighbouring joints. */
export interface Member {
  readonly from: Joint;
  readonly to: Joint;
  readonly lengthIn: number;
  /** Which unknown each end quantity is, −1 where it is known. */
  readonly unknowns: MemberEnds;
  /**
   * End rotations (×6·EI/L, turned inward) and end shears (×L, first upward then downward) for unit end
   * quantities; symmetric.
   */
  readonly matrix: readonly [MemberEnds, MemberEnds, MemberEnds, MemberEnds];
}

/** At the ends of a member: moment at its left, moment at its right, drop at its left, drop at its right. */
export type MemberEnds = readonly [number, number, number, number];

export function layOutRedundants(joints: readonly Joint[], lengthIn: number): Redundants {
  let count = 0;
  const members: Member[] = [];
  let from: Joint | undefined;
  let momentFrom = -1;
  let dropFrom = -1;
  joints.forEach((to, index) => {
    const runsOn = index < joints.length - 1;
    const momentTo =
      from !== undefined && (to.kind === 'fixed' || (to.kind === 'pin' && runsOn)) ? count++ : -1;
    const dropTo = to.kind === 'hinge' ? count++ : -1;
    if (from !== undefined) {
      const spanIn = to.atIn - from.atIn;
      members.push({
        from,
        to,
        lengthIn: spanIn,
        unknowns: [momentFrom, momentTo, dropFrom, dropTo],
        matrix: memberMatrix(spanIn / lengthIn),
      });
    }
    momentFrom = to.kind === 'fixed' && runsOn ? count++ : momentTo;
    dropFrom = dropTo;
    from = to;
  });
  return { members, system: factor(assemble(members, count), count) };
}

function memberMatrix(share: number): Member['matrix'] {
  const lever = 1 / share;
  return [
    [2 * share, share, -lever, lever],
    [share, 2 * share, lever, -lever],
    [-lever, lever, 0, 0],
    [lever, -lever, 0, 0],
  ];
}

function assemble(members: readonly Member[], count: number): Float64Array {
  const matrix = new Float64Array(count * count);
  for (const member of members) {
    member.unknowns.forEach((row, i) => {
      member.unknowns.forEach((column, j) => {
        if (row < 0 || column < 0) return;
        const place = row * count + column;
        matrix[place] = (matrix[place] ?? 0) + (member.matrix[i]?.[j] ?? 0);
      });
    });
  }
  return matrix;
}

/** What is known of a member under one load case before the redundants are. */
export interface MemberLoad {
  readonly member: Member;
  /** Known end quantities; beside an unknown: what is added to it (a couple over a pin). */
  readonly known: MemberEnds;
  /** End rotations and end shears of the loaded simple span, scaled like `Member.matrix`. */
  readonly loaded: MemberEnds;
}

/** The end quantities of every member, in the order given. */
export function solveRedundants({ system }: Redundants, loads: readonly MemberLoad[]): readonly MemberEnds[] {
  if (system.size === 0) return loads.map((load) => load.known);
  const rightSide = new Float64Array(system.size);
  for (const { member, known, loaded } of loads) {
    member.unknowns.forEach((row, i) => {
      if (row < 0) return;
      const [a, b, c, d] = member.matrix[i] ?? [0, 0, 0, 0];
      const misfit = (loaded[i] ?? 0) + a * known[0] + b * known[1] + c * known[2] + d * known[3];
      rightSide[row] = (rightSide[row] ?? 0) - misfit;
    });
  }
  const unknowns = solve(system, rightSide);
  const end = (index: number, known: number): number => known + (unknowns[index] ?? 0);
  return loads.map(
    ({
      member: {
        unknowns: [a, b, c, d],
      },
      known,
    }) => [end(a, known[0]), end(b, known[1]), end(c, known[2]), end(d, known[3])],
  );
}
