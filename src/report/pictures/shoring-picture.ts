import { END_STUDS, temporaryWall, type TemporaryWall } from '../../engineering/materials-list/index.ts';
import { sawnSize, type SawnSize } from '../../engineering/materials/lumber-sizes.ts';
import type { Beam, Shoring } from '../../engineering/proposal/design.ts';
import type { Strip, Survey } from '../../engineering/proposal/survey.ts';
import { USUAL_SLAB_IN } from '../../engineering/shoring/index.ts';
import { formatQuantity, positive, type Check, type Quantity } from '../../engineering/trace/index.ts';
import { tape } from '../drawings/dimensions.ts';
import {
  shoringElevation,
  shoringSection,
  type DrawnShoring,
  type FigureNote,
  type PaperRoom,
  type Side,
} from '../drawings/scaled/index.ts';
import { scaledPicture, type Picture } from './picture.ts';

export interface ShoringProposal {
  readonly shoring: Shoring;
  readonly survey: Survey;
  /** Left out before one is proposed: the walls then reach past the opening. */
  readonly beam?: Pick<Beam, 'bearingLeftIn' | 'bearingRightIn'>;
  /** Of the calculation, by side; left out where there is none. */
  readonly loads?: Readonly<Partial<Record<Side, Quantity>>>;
  readonly soil?: Readonly<Partial<Record<Side, Pick<Check, 'demand' | 'capacity' | 'passes'>>>>;
}

/** Walls are long: with less room their studs would be lines. */
const ROOM: PaperRoom = { widthIn: 6.8, heightIn: 5.4 };

/**
 * The temporary walls of the storey of the opening: across the wall with their distance from it, and along it with
 * every stud.
 *
 * @param id unique on the page
 * @throws Refusal for unknown lumber and walls without height
 */
export function shoringPictures(id: string, proposal: ShoringProposal): readonly Picture[] {
  const drawn = drawnShoring(proposal);
  return [
    scaledPicture(`${id}-section`, (scale) => shoringSection(drawn, scale), ROOM),
    scaledPicture(`${id}-elevation`, (scale) => shoringElevation(drawn, scale), ROOM),
  ];
}

function drawnShoring({ shoring, survey, beam, loads = {}, soil = {} }: ShoringProposal): DrawnShoring {
  const stud = sawnSize(shoring.studSize, 'studSize');
  const reachesPast = {
    fromIn: survey.openingFromIn - (beam?.bearingLeftIn ?? 0),
    toIn: survey.openingToIn + (beam?.bearingRightIn ?? 0),
  };
  const wall = temporaryWall(shoring, reachesPast.toIn - reachesPast.fromIn, survey.wallHeightIn);
  positive(wall.studIn, 'survey.wallHeightIn');
  const fromIn = reachesPast.fromIn - (wall.lengthIn - (reachesPast.toIn - reachesPast.fromIn)) / 2;
  const sides = (['front', 'rear'] as const).filter(
    (side) => shoring.sides === 'both' || shoring.sides === side,
  );
  return {
    walls: sides.map((side) => {
      const load = loads[side];
      return { side, ...(load === undefined ? {} : { load: `${formatQuantity(load)} a stud` }) };
    }),
    offsetIn: shoring.offsetIn,
    oldWall: { thicknessIn: survey.wallThicknessIn, heightIn: survey.wallHeightIn },
    stud: { thicknessIn: stud.thicknessIn, widthIn: stud.widthIn, lengthIn: wall.studIn },
    fromIn,
    lengthIn: wall.lengthIn,
    studMiddlesIn: studMiddles(wall, shoring.studSpacingIn, stud).map((at) => fromIn + at),
    spacingIn: shoring.studSpacingIn,
    topPlates: shoring.topPlates,
    bracingRows: wall.bracingRows,
    reachesPast,
    ...(shoring.soleOn === 'slab' ? { slabIn: USUAL_SLAB_IN } : {}),
    words: wordsOf(shoring, wall),
    notes: notesOf({ shoring, survey, soil }, sides),
    descriptions: describe(shoring, wall, sides, { loads, beam: beam !== undefined }),
  };
}

/** At their spacing, the run of them in the middle of the wall, and one more beside the stud at either end. */
function studMiddles(
  { lengthIn, studs }: TemporaryWall,
  spacingIn: number,
  { thicknessIn }: SawnSize,
): number[] {
  const regular = studs - END_STUDS;
  const first = (lengthIn - (regular - 1) * spacingIn) / 2;
  const inside = (at: number) => Math.min(lengthIn - thicknessIn / 2, Math.max(thicknessIn / 2, at));
  const run = Array.from({ length: regular }, (_, index) => inside(first + index * spacingIn));
  const end = inside(first);
  // Outside it where the plate is long enough.
  const beside = end >= 1.5 * thicknessIn ? end - thicknessIn : end + thicknessIn;
  return [...run, beside, lengthIn - beside].sort((a, b) => a - b);
}

const counted = (count: number, one: string, many: string) => (count === 1 ? `1 ${one}` : `${count} ${many}`);

function wordsOf(
  { studSize, species, grade, studSpacingIn, topPlates, soleOn }: Shoring,
  { studs, studIn, bracingRows }: TemporaryWall,
): DrawnShoring['words'] {
  return {
    stud: `studs ${studSize} ${species} ${grade}`,
    studs: `${studs} studs ${studSize}, ${tape(studIn)} long: ${tape(studSpacingIn)} center to center and one more at either end`,
    plates: counted(topPlates, 'top plate', 'top plates'),
    bracing:
      bracingRows === 0
        ? 'studs not braced'
        : `${counted(bracingRows, 'row', 'rows')} of bracing on the studs`,
    sole: `sole on ${soleOn === 'slab' ? `the slab, counted ${tape(USUAL_SLAB_IN)} thick` : `joists that run ${soleOn === 'joists across' ? 'across' : 'along'} it`}`,
  };
}

/** More strips than these are in the survey, not under a picture. */
const MOST_STRIPS = 4;

function notesOf(
  { shoring, survey, soil = {} }: Pick<ShoringProposal, 'shoring' | 'survey' | 'soil'>,
  sides: readonly Side[],
): FigureNote[] {
  const shown = survey.strips.slice(0, MOST_STRIPS);
  const more = survey.strips.length - shown.length;
  return [
    ...shown.map((strip, index) => ({
      text: `Carried: ${stripWords(strip)}${more > 0 && index === shown.length - 1 ? `, and ${more} more` : ''}.`,
    })),
    ...sides.flatMap((side) => {
      const pressed = soil[side];
      if (pressed === undefined) return [];
      const { demand, capacity, passes } = pressed;
      return [
        {
          text: `Under the ${side} sole the slab presses on the soil with ${formatQuantity(demand)}; ${passes ? '' : 'no more than '}${formatQuantity(capacity)} is allowed.`,
          warns: !passes,
        },
      ];
    }),
    { text: notDrawn(shoring, survey) },
    {
      text: 'A help for reading the figures, not a procedure: the order of work and its hold points come first.',
    },
  ];
}

function stripWords({ label, frontSpanIn, rearSpanIn, spacingIn, overWall }: Strip): string {
  const spans = [
    ...(frontSpanIn > 0 ? [`${tape(frontSpanIn)} in front`] : []),
    ...(rearSpanIn > 0 ? [`${tape(rearSpanIn)} at the rear`] : []),
  ].join(', ');
  return `${label}, ${spans === '' ? 'no span' : spans}, ${tape(spacingIn)} center to center, ${overWall}`;
}

function notDrawn({ storeysShored, bracesRelanded }: Shoring, { braces, below }: Survey): string {
  const left = [
    ...(storeysShored > 1 ? [`${counted(storeysShored - 1, 'other storey', 'other storeys')} shored`] : []),
    ...(below === 'slab' ? [] : ['the shores straight below']),
    'the diagonals square to each wall',
    ...(bracesRelanded && braces.length > 0
      ? [`the strongbacks of ${counted(braces.length, 'roof brace', 'roof braces')}`]
      : []),
  ];
  return `Not drawn: ${left.join(', ')}.`;
}

function describe(
  shoring: Shoring,
  { lengthIn, studs, studIn, bracingRows }: TemporaryWall,
  sides: readonly Side[],
  { loads, beam }: { readonly loads: NonNullable<ShoringProposal['loads']>; readonly beam: boolean },
): DrawnShoring['descriptions'] {
  const heaviest = sides.flatMap((side) => {
    const load = loads[side];
    return load === undefined ? [] : [`${side} ${formatQuantity(load)}`];
  });
  const where = sides.length === 2 ? 'on both sides' : sides[0] === 'front' ? 'in front' : 'at the rear';
  return {
    section: `${counted(sides.length, 'temporary wall', 'temporary walls')} ${where}, ${tape(shoring.offsetIn)} from the middle of the old wall to ${sides.length === 2 ? 'theirs' : 'its own'}: studs ${shoring.studSize}, ${tape(studIn)} long, under ${counted(shoring.topPlates, 'top plate', 'top plates')}, on a sole on ${shoring.soleOn === 'slab' ? 'the slab' : 'joists'}.${heaviest.length === 0 ? '' : ` Load of a stud: ${heaviest.join(', ')}.`}`,
    elevation: `${tape(lengthIn)} long, past both ends of the ${beam ? 'beam' : 'opening'}: ${studs} studs at ${tape(shoring.studSpacingIn)}, ${bracingRows === 0 ? 'not braced' : `${counted(bracingRows, 'row', 'rows')} of bracing`}, one diagonal.`,
  };
}
