import { sawnSize } from '../materials/lumber-sizes.ts';
import { makeCheck, qty, type Check, type Notice, type Step } from '../trace/index.ts';
import { feetFromInches } from '../units/index.ts';
import {
  checkLateralDeflection,
  checkWoodColumn,
  lateralLoadLbPerIn,
  lateralMomentLbIn,
  woodMember,
  type WoodColumnCombination,
} from '../wood/index.ts';
import { allowableStressCombinations } from '../loads/combinations.ts';
import { LOAD_KINDS, type Load, type LoadKind } from '../loads/load.ts';
import type { BeamActions } from './beam-actions.ts';
import type { Criteria } from './criteria.ts';
import type { Support } from './design.ts';
import type { Survey } from './survey.ts';

/** The stud next to the kings carries the other half of the space between. Common practice: 16 in. */
const NEXT_STUD_IN = 16;
/** ASCE 7 2.4.1, combinations 5 and 7; with other loads that pass it is 0.75 of that (combination 6). */
const WIND_ALONE = 0.6;
/** IRC Table R301.7: exterior walls with flexible finishes. From memory. */
const WALL_DEFLECTION_RATIO = 240;

/**
 * Wind on the kings at service level, 0.6 W, on half the opening and half the space to the next stud, lb per inch of
 * height; zero where the wall is interior or the criteria give no wind on walls.
 */
export function kingWindLbPerIn(survey: Survey, criteria: Criteria): number {
  if (!survey.wallIsExterior) return 0;
  return lateralLoadLbPerIn(criteria.windWallPsf * WIND_ALONE, kingTributaryIn(survey));
}

function kingTributaryIn(survey: Survey): number {
  return (survey.openingToIn - survey.openingFromIn) / 2 + NEXT_STUD_IN / 2;
}

export interface KingResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
}

/**
 * The full-height studs beside an opening in an exterior wall: wind on half the opening and half the space to the next
 * stud bends them between floor and ceiling, while what lies on the top plate beside the beam presses them (NDS 3.9,
 * every combination with its own CD), and sideways deflection. What is on the beam goes down the jacks. Without wind
 * in the criteria there is nothing to check, and that is said.
 */
export function judgeKings(
  survey: Survey,
  criteria: Criteria,
  support: Support,
  actions: Pick<BeamActions, 'beside' | 'geometry'>,
): KingResult {
  if (!survey.wallIsExterior) return { checks: [], notices: [] };
  if (support.kings === 0) {
    const missing = makeCheck({
      id: 'kings.there',
      title: 'Kings beside the opening',
      clause: { standard: 'IRC', edition: criteria.editions.irc, section: 'R602.7.5' },
      demand: qty(1, 'each'),
      capacity: qty(0, 'each'),
      sentence: () => 'The wall is exterior: full-height kings must take the wind beside the opening.',
    });
    return { checks: [missing], notices: [] };
  }
  if (criteria.windWallPsf === 0) {
    const text = 'The wall is exterior and the criteria give no wind on walls: the kings are not calculated.';
    return { checks: [], notices: [{ id: 'kings.no-wind', severity: 'caution', text }] };
  }
  const edition = criteria.editions.nds;
  const { species, grade, size, kings: plies } = support;
  const member = woodMember({ kind: 'sawn', species, grade, size, plies }, edition, 'kings');
  const heightIn = survey.wallHeightIn;
  const loadLbPerIn = kingWindLbPerIn(survey, criteria);
  const beside = besideByKind(survey, support, member.breadthIn, actions);
  const steps = [windStep(survey, criteria, loadLbPerIn), besideStep(beside)];
  const checks = checkWoodColumn({
    id: 'kings',
    edition,
    member,
    // Side by side and bent about the strong axis, each king carries its share: no fastening is counted on.
    fastening: plies === 1 ? 'solid' : 'not qualifying',
    heightIn,
    weakUnbracedIn: support.bracedWeakAxisIn ?? heightIn,
    edgeUnbracedIn: support.bracedWeakAxisIn ?? heightIn,
    combinations: kingCombinations(criteria, beside, lateralMomentLbIn(loadLbPerIn / WIND_ALONE, heightIn)),
  }).map((check) =>
    check.id === 'kings.combined' ? { ...check, steps: [...steps, ...check.steps] } : check,
  );
  return {
    checks: [
      ...checks,
      checkLateralDeflection({
        id: 'kings.sideways',
        edition,
        member,
        loadLbPerIn,
        heightIn,
        ratio: WALL_DEFLECTION_RATIO,
        governing: '0.6W',
      }),
    ],
    notices: [],
  };
}

export type ByKind = Readonly<Record<LoadKind, number>>;

/** What lies on the top plate from the beam's end to half the space beyond the kings, lb by kind; of snow the heaviest way. */
function besideByKind(
  survey: Survey,
  { end }: Support,
  kingsIn: number,
  { beside, geometry }: Pick<BeamActions, 'beside' | 'geometry'>,
): ByKind {
  const reachIn = kingsIn + NEXT_STUD_IN / 2;
  const fromIn = end === 'left' ? Math.max(0, geometry.fromIn - reachIn) : geometry.toIn;
  const toIn = end === 'left' ? geometry.fromIn : Math.min(survey.wallLengthIn, geometry.toIn + reachIn);
  const sums: Record<LoadKind, number> = { D: 0, L: 0, Lr: 0, S: 0, W: 0 };
  const snow = new Map<string, number>();
  for (const load of beside) {
    const lb = within(load, fromIn, toIn);
    if (load.kind === 'S') {
      const way = load.snowCase ?? 'balanced';
      snow.set(way, (snow.get(way) ?? 0) + lb);
    } else sums[load.kind] += lb;
  }
  return { ...sums, S: Math.max(0, ...snow.values()) };
}

const NO_KINGS: ByKind = { D: 0, L: 0, Lr: 0, S: 0, W: 0 };

/** What the kings bring down beside the jacks, under the wall that goes on; nothing where there are none. */
export function loadOnKings(
  survey: Survey,
  support: Support,
  actions: Pick<BeamActions, 'beside' | 'geometry'>,
): ByKind {
  if (support.kind === 'post' || support.kings === 0) return NO_KINGS;
  return besideByKind(survey, support, support.kings * sawnSize(support.size, 'size').thicknessIn, actions);
}

export function factoredOnKings(kings: ByKind, factors: ByKind): number {
  return LOAD_KINDS.reduce((sum, kind) => sum + kings[kind] * factors[kind], 0);
}

/** The same in every combination of the beam, in its order, lb. */
export function kingsByCombination(
  { combinations }: Pick<BeamActions, 'combinations'>,
  kings: ByKind,
): number[] {
  return combinations.map(({ combination }) => factoredOnKings(kings, combination.factors));
}

function within(load: Load, fromIn: number, toIn: number): number {
  if (load.form === 'point') {
    return load.positionIn >= fromIn && load.positionIn <= toIn ? load.loadLb : 0;
  }
  const lengthIn = Math.min(load.toIn, toIn) - Math.max(load.fromIn, fromIn);
  return lengthIn > 0 ? (load.loadPlf * lengthIn) / 12 : 0;
}

/** @param windMomentLbIn of the whole wind, strength level */
function kingCombinations(
  criteria: Criteria,
  beside: ByKind,
  windMomentLbIn: number,
): WoodColumnCombination[] {
  const present = new Set<LoadKind>(['W', ...LOAD_KINDS.filter((kind) => beside[kind] !== 0)]);
  return allowableStressCombinations(criteria.editions, present).map(({ name, durationFactor, factors }) => ({
    name,
    loadDuration: durationFactor,
    // Wind on the wall comes with and without the full uplift of the roof: uplift does not unload the kings.
    axialLb: Math.max(0, factoredOnKings({ ...beside, W: Math.max(0, beside.W) }, factors)),
    strongMomentLbIn: windMomentLbIn * factors.W,
  }));
}

function windStep(survey: Survey, criteria: Criteria, loadLbPerIn: number): Step {
  return {
    id: 'kings.wind',
    title: 'Wind on the kings at service level',
    clause: { standard: 'ASCE 7', edition: criteria.editions.asce7, section: '2.4.1' },
    formula: 'w = f · p · b',
    values: {
      f: qty(WIND_ALONE),
      p: qty(criteria.windWallPsf, 'psf'),
      b: qty(feetFromInches(kingTributaryIn(survey)), 'ft'),
    },
    result: qty(loadLbPerIn * 12, 'plf'),
    note: 'Half the opening and half the space to the next stud.',
  };
}

export function besideStep(beside: ByKind): Step {
  const kinds = LOAD_KINDS.filter((kind) => kind === 'D' || beside[kind] !== 0);
  return {
    id: 'kings.beside',
    title: 'On the top plate over the kings, all kinds in full',
    clause: { standard: 'Mechanics', edition: '', section: 'tributary length' },
    formula: `P = ${kinds.join(' + ')}`,
    values: Object.fromEntries(kinds.map((kind) => [kind, qty(beside[kind], 'lb')])),
    result: qty(
      kinds.reduce((sum, kind) => sum + beside[kind], 0),
      'lb',
    ),
    note: 'From the beam’s end to half the space beyond the kings; each combination takes its own factors.',
  };
}
