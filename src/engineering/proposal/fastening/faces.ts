import type { FaceLoad, HangerLine, WoodPiece } from '../../fasteners/connections/context.ts';
import type { StripTakeOff } from '../../loads/take-off/strip-loads.ts';
import type { Listing } from '../../fasteners/schedule/row.ts';
import type { Editions } from '../../trace/index.ts';
import type { BeamActions } from '../beam-actions.ts';
import { governingLoad, type GoverningLoad } from './governing.ts';

type Side = 'front' | 'rear';

/** Floor and ceiling joists that a flush beam cuts: these hang on its faces. Rafters stay whole on top. */
export function hangingStrips({
  takeOff,
  geometry,
}: Pick<BeamActions, 'takeOff' | 'geometry'>): readonly StripTakeOff[] {
  return takeOff.strips.filter(
    (strip) => strip.carries !== 'roof' && strip.toIn > geometry.fromIn && strip.fromIn < geometry.toIn,
  );
}

/** The middles of the stretches of the beam along which the same strips hang on it. */
function stretches(strips: readonly StripTakeOff[], { geometry }: BeamActions): readonly number[] {
  const ends = [geometry.fromIn, geometry.toIn, ...strips.flatMap(({ fromIn, toIn }) => [fromIn, toIn])]
    .filter((at) => at >= geometry.fromIn && at <= geometry.toIn)
    .sort((a, b) => a - b);
  return ends.slice(1).flatMap((end, index) => {
    const start = ends[index] ?? end;
    return end > start ? [(start + end) / 2] : [];
  });
}

function at(strips: readonly StripTakeOff[], placeIn: number, side: Side): { D: number; L: number } {
  const there = strips.filter(({ fromIn, toIn }) => fromIn <= placeIn && toIn >= placeIn);
  return {
    D: there.reduce((total, strip) => total + strip[side].plf.D, 0),
    L: there.reduce((total, strip) => total + strip[side].plf.L, 0),
  };
}

export interface FaceLoads {
  readonly front: FaceLoad;
  readonly rear: FaceLoad;
  readonly governing: GoverningLoad;
}

/**
 * What hangs on either face where most does, plf. The dead part, which relieves the other face, is the least along the
 * beam, so that no relief is counted on where there is none.
 */
export function faceLoads(actions: BeamActions, editions: Pick<Editions, 'asce7'>): FaceLoads {
  const strips = hangingStrips(actions);
  const places = stretches(strips, actions);
  const heaviest = (side: Side) =>
    places
      .map((place) => governingLoad(editions, at(strips, place, side)))
      .reduce<GoverningLoad>(heavier, governingLoad(editions, {}));
  const governing = heavier(heaviest('front'), heaviest('rear'));
  const face = (side: Side): FaceLoad => {
    const loads = places.map((place) => at(strips, place, side));
    const inCombination = loads.map(({ D, L }) => D * governing.factors.D + L * governing.factors.L);
    return {
      totalPlf: Math.max(0, ...inCombination),
      deadPlf: loads.length === 0 ? 0 : Math.min(...loads.map(({ D }) => D * governing.factors.D)),
    };
  };
  return { front: face('front'), rear: face('rear'), governing };
}

function heavier(one: GoverningLoad, other: GoverningLoad): GoverningLoad {
  return other.value / other.durationFactor > one.value / one.durationFactor ? other : one;
}

/** One line of hangers for each face that joists hang on, by the heaviest joist end there. */
export function hangerLines(
  actions: BeamActions,
  editions: Pick<Editions, 'asce7'>,
  joist: WoodPiece,
  listingOf: (side: Side) => Listing | undefined,
): readonly HangerLine[] {
  return (['front', 'rear'] as const).flatMap((side) => {
    const ends = hangingStrips(actions).map((strip) => {
      const { D, L } = strip[side].plf;
      const perJoist = strip.spacingIn / 12;
      return governingLoad(editions, { D: D * perJoist, L: L * perJoist });
    });
    const worst = ends.reduce<GoverningLoad>(heavier, governingLoad(editions, {}));
    if (worst.value <= 0) return [];
    const listing = listingOf(side);
    return [
      {
        side,
        joist,
        downLb: worst.value,
        upLb: 0,
        durationFactor: worst.durationFactor,
        combination: worst.combination,
        ...(listing === undefined ? {} : { listing }),
      },
    ];
  });
}

/** Line loads that lie on the beam's top in a combination, where they are most, plf: all plies carry them at once. */
export function topLoadPlf(actions: BeamActions, { factors }: GoverningLoad, flush: boolean): number {
  const hanging = new Set(flush ? hangingStrips(actions).map((strip) => strip.id) : []);
  const lines = actions.loads.flatMap((load) =>
    load.form === 'line' &&
    !(load.source.kind === 'strip' && hanging.has(load.source.id)) &&
    (load.kind !== 'S' || load.snowCase === 'balanced')
      ? [{ from: load.fromIn, to: load.toIn, plf: load.loadPlf * factors[load.kind] }]
      : [],
  );
  const starts = lines.map((line) => line.from);
  return Math.max(
    0,
    ...starts.map((place) =>
      lines
        .filter((line) => line.from <= place && line.to > place)
        .reduce((total, line) => total + line.plf, 0),
    ),
  );
}
