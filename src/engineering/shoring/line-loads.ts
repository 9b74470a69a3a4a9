import {
  allowableStressCombinations,
  kindsPresent,
  snowCasesOf,
  type Load,
  type LoadCombination,
  type LoadTakeOff,
  type SnowCase,
  type StripTakeOff,
} from '../loads/index.ts';
import { qty, refuseUnless, type Editions, type Step } from '../trace/index.ts';
import { STATICS } from './clauses.ts';
import { temporaryReactions, type ShoredSides, type TemporaryReactions } from './temporary-reactions.ts';

/** The heaviest line load on one temporary wall in one combination. */
export interface TemporaryLine {
  readonly combination: string;
  readonly loadDuration: number;
  readonly loadPlf: number;
}

export interface TemporaryWallLoad {
  readonly side: 'front' | 'rear';
  readonly lines: readonly TemporaryLine[];
  readonly heaviest: TemporaryLine;
  readonly steps: readonly Step[];
}

export interface LineLoadInput {
  readonly takeOff: LoadTakeOff;
  readonly sides: ShoredSides;
  readonly offsetIn: number;
  /** A flush beam cuts floor and ceiling joists: before the cut they run on, after it they end. The worse counts. */
  readonly joistsCut: boolean;
  readonly editions: Editions;
  /** How long the shoring stands: up to 7 days CD 1.25, up to two months 1.15 (NDS Table 2.3.2), never less than the load's own. */
  readonly daysStanding: number;
}

/** CD by the time that the temporary walls carry, NDS Table 2.3.2 (seven days, two months). */
export function standingDurationFactor(daysStanding: number): number {
  refuseUnless(
    Number.isFinite(daysStanding) && daysStanding > 0,
    'daysStanding',
    'The shoring stands for more than no days.',
  );
  return daysStanding <= 7 ? 1.25 : daysStanding <= 61 ? 1.15 : 0.9;
}

interface ShoredStrip {
  readonly strip: StripTakeOff;
  readonly ways: readonly TemporaryReactions[];
}

/**
 * Line loads on the temporary walls from the strips and from walls that stand on the old wall, by combination, at
 * the place along the wall where they are heaviest. Loads that relieve (a far span that lifts) count only for dead
 * load. Roof braces and landings are points and handled apart. Wind is not part of shoring.
 * Refuses what `temporaryReactions` refuses.
 */
export function temporaryWallLoads(input: LineLoadInput): TemporaryWallLoad[] {
  const { takeOff, offsetIn, sides, joistsCut } = input;
  const strips = takeOff.strips.map((strip): ShoredStrip => {
    const joists = {
      frontSpanIn: strip.front.spanIn,
      rearSpanIn: strip.rear.spanIn,
      overWall: strip.overWall,
    };
    const ways = [temporaryReactions(joists, offsetIn, sides)];
    if (joistsCut && strip.carries !== 'roof' && strip.overWall === 'continuous') {
      ways.push(temporaryReactions({ ...joists, overWall: 'lapped' }, offsetIn, sides));
    }
    return { strip, ways };
  });
  const standing = takeOff.loads.filter((load) => load.form === 'line' && load.source.kind === 'wall above');
  const present = kindsPresent(takeOff.loads.filter((load) => load.form === 'line'));
  present.delete('W');
  const combinations = allowableStressCombinations(input.editions, present);
  const floor = standingDurationFactor(input.daysStanding);
  const snowCases = snowCasesOf(takeOff.loads);
  return (['front', 'rear'] as const).flatMap((side) => {
    if (sides !== 'both' && sides !== side) return [];
    const lines = combinations.map((combination): TemporaryLine => ({
      combination: combination.name,
      loadDuration: Math.max(floor, combination.durationFactor),
      loadPlf: Math.max(
        0,
        ...snowCases.map((snowCase) =>
          heaviestPlf(side, strips, standing, combination, snowCase, sides === 'both' ? 0.5 : 1),
        ),
      ),
    }));
    const heaviest = lines.reduce<TemporaryLine>(
      (most, line) => (line.loadPlf > most.loadPlf ? line : most),
      {
        combination: 'none',
        loadDuration: floor,
        loadPlf: 0,
      },
    );
    return [{ side, lines, heaviest, steps: stepsOf(side, strips, offsetIn) }];
  });
}

/** Along the wall loads begin and end: the heaviest stretch between two such places. */
function heaviestPlf(
  side: 'front' | 'rear',
  strips: readonly ShoredStrip[],
  standing: readonly Load[],
  combination: LoadCombination,
  snowCase: SnowCase | undefined,
  shareWithoutFloor: number,
): number {
  const lines = standing.filter((load) => load.form === 'line');
  const places = [...strips.map(({ strip }) => strip), ...lines].flatMap((part) => [part.fromIn, part.toIn]);
  const edges = [...new Set(places)].sort((a, b) => a - b);
  let heaviest = 0;
  edges.slice(1).forEach((toIn, index) => {
    const middle = ((edges[index] ?? 0) + toIn) / 2;
    const here = strips.filter(({ strip }) => strip.fromIn < middle && middle < strip.toIn);
    const onJoists = here.reduce((sum, one) => sum + stripPlf(side, one, combination, snowCase), 0);
    const onWall = lines.reduce(
      (sum, load) => sum + (load.fromIn < middle && middle < load.toIn ? load.loadPlf : 0),
      0,
    );
    const carried = Math.max(
      0,
      ...here.flatMap(({ strip, ways }) =>
        strip.carries === 'floor' ? ways.map((way) => way[side].standing) : [],
      ),
    );
    // With no floor to hold it, a wall that stands on the old wall is shared by the temporary walls alike.
    const share = carried > 0 ? carried : shareWithoutFloor;
    heaviest = Math.max(heaviest, onJoists + combination.factors.D * onWall * share);
  });
  return heaviest;
}

/** Load per inch of joist and inch of wall is psf ÷ 144; times a reaction in inches, times 12, is plf. */
function stripPlf(
  side: 'front' | 'rear',
  { strip, ways }: ShoredStrip,
  { factors }: LoadCombination,
  snowCase: SnowCase | undefined,
): number {
  const psfOf = (from: 'front' | 'rear', plf: number): number =>
    strip[from].shareIn > 0 ? (plf * 12) / strip[from].shareIn : 0;
  const wayPlf = (way: TemporaryReactions): number =>
    (['front', 'rear'] as const).reduce((sum, from) => {
      const { plf, snowPlf } = strip[from];
      const dead = factors.D * psfOf(from, plf.D);
      const snow = snowCase === undefined ? 0 : (snowPlf[snowCase] ?? 0);
      const passing =
        factors.L * psfOf(from, plf.L) + factors.Lr * psfOf(from, plf.Lr) + factors.S * psfOf(from, snow);
      const reaction = way[side][from];
      return sum + (dead * reaction + passing * Math.max(0, reaction)) / 12;
    }, 0);
  return Math.max(...ways.map(wayPlf));
}

function stepsOf(side: 'front' | 'rear', strips: readonly ShoredStrip[], offsetIn: number): Step[] {
  return strips.flatMap(({ strip, ways }) =>
    strip[side].spanIn === 0
      ? []
      : [
          {
            id: `shoring.${side}.${strip.id}`,
            title: `${strip.label}: length of the ${side} span that its temporary wall carries`,
            clause: STATICS,
            formula:
              strip.overWall === 'lapped' || ways.length > 1
                ? 'b = l · l / (2 · (l − a))'
                : 'b = reaction of the continuous joist under 1 lb/in',
            values: { l: qty(strip[side].spanIn, 'in'), a: qty(offsetIn, 'in') },
            result: qty(Math.max(...ways.map((way) => way[side][side])), 'in'),
            ...(ways.length > 1 ? { note: 'The worse of before and after the joists are cut.' } : {}),
          },
        ],
  );
}
