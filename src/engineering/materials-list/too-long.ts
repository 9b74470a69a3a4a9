import { formatFeetInches } from '../units/index.ts';
import type { MaterialStep } from './called-for.ts';
import type { LumberNeed, Unlisted, WholeNeed } from './needs.ts';
import { isTooLongForGrade, STUD_LONGEST_IN } from './stock.ts';

/** The box where the grade is changed, as its form calls it. */
const gradeBoxes: Readonly<Partial<Record<MaterialStep, string>>> = {
  shoring: '“Grade” of the studs in the shoring plan',
  packs: '“Grade” of the pack',
  beam: '“Grade” of the beam',
};

/** Lumber that can be bought, and in words what is longer than sticks of its grade are made. */
export function boughtLumber(needs: readonly LumberNeed[]): {
  readonly lumber: readonly LumberNeed[];
  readonly unlisted: readonly Unlisted[];
} {
  const parts = needs.map((need) => {
    const tooLong = need.cutsIn.filter((cutIn) => isTooLongForGrade(cutIn, need.grade));
    const cutsIn = need.cutsIn.filter((cutIn) => !isTooLongForGrade(cutIn, need.grade));
    return { need: { ...need, cutsIn }, tooLong };
  });
  return {
    lumber: parts.flatMap(({ need }) => (need.cutsIn.length === 0 ? [] : [need])),
    unlisted: parts.flatMap(({ need, tooLong }) =>
      tooLong.length === 0 ? [] : [unlisted(need, tooLong.length, Math.max(...tooLong))],
    ),
  };
}

/** The same for beams: one ply, one stick. */
export function boughtWhole(needs: readonly WholeNeed[]): {
  readonly whole: readonly WholeNeed[];
  readonly unlisted: readonly Unlisted[];
} {
  const isTooLong = ({ goods, lengthIn }: WholeNeed) =>
    goods.kind === 'sawn' && isTooLongForGrade(lengthIn, goods.grade);
  return {
    whole: needs.filter((need) => !isTooLong(need)),
    unlisted: needs.filter(isTooLong).map((need) => unlisted(need, need.pieces, need.lengthIn)),
  };
}

function unlisted(
  { step, sources, label }: Pick<LumberNeed, 'step' | 'sources' | 'label'>,
  pieces: number,
  longestIn: number,
): Unlisted {
  const feet = (inches: number) => formatFeetInches(inches, { to: 16 });
  const count = pieces === 1 ? '1 piece' : `${pieces} pieces`;
  return {
    step,
    sources,
    text: `${label}: ${count} of up to ${feet(longestIn)} ${pieces === 1 ? 'is' : 'are'} not listed. Stud is a grade for studs up to ${feet(STUD_LONGEST_IN)}, and longer sticks of it can’t be bought. Change ${gradeBoxes[step] ?? 'the grade'}, to No.2 for instance.`,
  };
}
