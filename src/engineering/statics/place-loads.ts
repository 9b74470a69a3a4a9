import { breakAt, type BeamLine } from './beam-line.ts';
import { intensityAt, type BeamLoad } from './beam-loads.ts';

/** The loads of one case, sorted onto the pieces of a line and onto the breaks between them. */
export interface PlacedLoads {
  readonly stretches: readonly Stretch[];
  /** One for each break, the two ends included. */
  readonly stations: readonly Station[];
}

/** A piece before it is solved. */
export interface Stretch {
  readonly fromIn: number;
  readonly lengthIn: number;
  loadLbPerIn: number;
  loadChangeLbPerIn: number;
}

/** What acts at a break. */
export interface Station {
  pointLb: number;
  coupleLbIn: number;
}

/** The line must have been laid out for these loads. */
export function placeLoads({ breaksIn, model }: BeamLine, loads: readonly BeamLoad[]): PlacedLoads {
  const stations = breaksIn.map((): Station => ({ pointLb: 0, coupleLbIn: 0 }));
  const stretches = breaksIn.slice(1).map((toIn, index): Stretch => {
    const fromIn = breaksIn[index] ?? 0;
    return { fromIn, lengthIn: toIn - fromIn, loadLbPerIn: 0, loadChangeLbPerIn: 0 };
  });
  const indexOf = (atIn: number): number => breakAt(breaksIn, atIn, model.lengthIn);
  for (const load of loads) {
    switch (load.kind) {
      case 'uniform':
        for (const stretch of stretches) stretch.loadLbPerIn += load.loadLbPerIn;
        break;
      case 'partial':
        for (const stretch of stretches.slice(indexOf(load.fromIn), indexOf(load.toIn))) {
          stretch.loadLbPerIn += load.loadLbPerIn;
        }
        break;
      case 'trapezoidal':
        for (const stretch of stretches.slice(indexOf(load.fromIn), indexOf(load.toIn))) {
          const start = intensityAt(load, stretch.fromIn);
          stretch.loadLbPerIn += start;
          stretch.loadChangeLbPerIn += intensityAt(load, stretch.fromIn + stretch.lengthIn) - start;
        }
        break;
      case 'point':
        stationAt(stations, indexOf(load.atIn)).pointLb += load.loadLb;
        break;
      case 'couple':
        stationAt(stations, indexOf(load.atIn)).coupleLbIn += load.coupleLbIn;
        break;
    }
  }
  return { stretches, stations };
}

/** The station at a break; an idle one for a break that the line does not have. */
export function stationAt(stations: readonly Station[], breakIndex: number): Station {
  return stations[breakIndex] ?? { pointLb: 0, coupleLbIn: 0 };
}
