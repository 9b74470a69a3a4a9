import type { LoadTakeOff } from '../loads/index.ts';
import { makeCheck, qty, type Check, type Editions, type Notice } from '../trace/index.ts';
import { checkWoodBeam, woodColumnCapacityLb, woodMember, type WoodMember } from '../wood/index.ts';
import { PRACTICE } from './clauses.ts';

/** Lumber on edge across both temporary walls; roof braces that stood on the old wall are set on it. */
export interface Strongback {
  readonly species: string;
  readonly grade: string;
  readonly size: string;
  readonly plies: number;
}

/** Braces whose feet are this close share one strongback. */
const ONE_STATION_IN = 12;
/** Studs under each end of a strongback, beside the regular ones. Common practice. */
const STUDS_UNDER_END = 2;

export interface BraceStation {
  readonly positionIn: number;
  readonly labels: readonly string[];
  readonly verticalLb: number;
  /** Largest push to one side; pushes of opposite braces may cancel and are not counted on. */
  readonly horizontalLb: number;
}

/** Feet of braces along the wall, gathered where they stand together. Service loads, lb. */
export function braceStations(takeOff: Pick<LoadTakeOff, 'braces'>): BraceStation[] {
  const stations: BraceStation[] = [];
  for (const brace of [...takeOff.braces].sort((a, b) => a.positionIn - b.positionIn)) {
    const last = stations.at(-1);
    if (last !== undefined && brace.positionIn - last.positionIn <= ONE_STATION_IN) {
      stations[stations.length - 1] = {
        positionIn: last.positionIn,
        labels: [...last.labels, brace.label],
        verticalLb: last.verticalLb + brace.serviceVerticalLb,
        horizontalLb: Math.max(last.horizontalLb, brace.serviceHorizontalLb),
      };
    } else {
      stations.push({
        positionIn: brace.positionIn,
        labels: [brace.label],
        verticalLb: brace.serviceVerticalLb,
        horizontalLb: brace.serviceHorizontalLb,
      });
    }
  }
  return stations;
}

/**
 * A strongback over the heaviest station: simple span between the temporary walls with the load in the middle
 * (NDS 3.3, 3.4, 3.10), and two studs under each end. Refuses unknown lumber.
 */
export function checkStrongback(input: {
  readonly strongback: Strongback;
  readonly stations: readonly BraceStation[];
  readonly offsetIn: number;
  readonly loadDuration: number;
  readonly stud: WoodMember;
  readonly studHeightIn: number;
  readonly midHeightBracingIn: number;
  readonly editions: Editions;
}): Check[] {
  const worst = input.stations.reduce<BraceStation | undefined>(
    (most, station) => (most === undefined || station.verticalLb > most.verticalLb ? station : most),
    undefined,
  );
  if (worst === undefined) return [];
  const { editions, stud } = input;
  const member = woodMember({ kind: 'sawn', ...input.strongback }, editions.nds, 'strongback');
  const span = 2 * input.offsetIn;
  const load = worst.verticalLb;
  const bearing = { lengthIn: stud.depthIn, endDistanceIn: 0 };
  const capacity = woodColumnCapacityLb(
    {
      edition: editions.nds,
      member: stud,
      fastening: 'solid',
      heightIn: input.studHeightIn,
      weakUnbracedIn: input.midHeightBracingIn === 0 ? input.studHeightIn : input.midHeightBracingIn,
      whileBuilding: true,
    },
    input.loadDuration,
  );
  return [
    ...checkWoodBeam({
      id: 'shoring.strongback',
      edition: editions.nds,
      member,
      spanIn: span,
      combinations: [
        {
          name: 'brace feet, D with roof load',
          loadDuration: input.loadDuration,
          momentLbIn: (load * span) / 4,
          shearLb: load / 2,
          reactionsLb: [load / 2, load / 2],
        },
      ],
      bearings: [
        { id: 'front', label: 'front temporary wall', ...bearing },
        { id: 'rear', label: 'rear temporary wall', ...bearing },
      ],
      deflections: [],
      limits: { liveRatio: 240, totalRatio: 240 },
      bracing: { topIn: span },
    }),
    makeCheck({
      id: 'shoring.strongback.studs',
      title: `${STUDS_UNDER_END} studs under each end of a strongback`,
      clause: PRACTICE,
      demand: qty(load / 2, 'lb'),
      capacity: qty(STUDS_UNDER_END * capacity, 'lb'),
    }),
  ];
}

export function strongbackNotices(stations: readonly BraceStation[]): Notice[] {
  return stations.map((station, index) => ({
    id: `shoring.strongback.${index + 1}`,
    severity: 'caution',
    text: `Strongback ${index + 1} under ${station.labels.join(' and ')}: ${Math.round(station.verticalLb)} lb down and ${Math.round(station.horizontalLb)} lb sideways. Block the foot against sliding and tie the strongback to the joists before the brace is let go.`,
    clause: PRACTICE,
  }));
}
