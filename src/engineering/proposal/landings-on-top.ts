import { caseName, type BeamActions } from './beam-actions.ts';

/**
 * The survey does not say how wide the foot of a post or brace is: one stud's thickness along the beam, in, the least
 * that stands on it. Common practice.
 */
export const LEAST_FOOT_IN = 1.5;

/** Posts and braces at one place on the beam, in the combination that is heaviest there. */
export interface LandingOnTop {
  /** 'Front brace 1 and Rear brace 1'. */
  readonly label: string;
  readonly loadLb: number;
  /** From the nearer end of the beam. */
  readonly fromEndIn: number;
  readonly governing: string;
}

/** Point loads on the beam gathered by place, each place with its heaviest combination; what only lifts is left out. */
export function landingsOnTop({
  loads,
  combinations,
  geometry,
}: Pick<BeamActions, 'loads' | 'combinations' | 'geometry'>): LandingOnTop[] {
  const points = loads.filter((load) => load.form === 'point');
  const places = [...new Set(points.map((load) => load.positionIn))];
  return places.flatMap((positionIn): LandingOnTop[] => {
    const here = points.filter((load) => load.positionIn === positionIn);
    const heaviest = combinations
      .map(({ name, factors }) => ({
        governing: name,
        loadLb: here.reduce((sum, load) => sum + load.loadLb * (factors[caseName(load)] ?? 0), 0),
      }))
      .reduce((most, one) => (one.loadLb > most.loadLb ? one : most), { governing: '', loadLb: 0 });
    if (heaviest.loadLb <= 0) return [];
    return [
      {
        ...heaviest,
        label: [...new Set(here.map((load) => load.label))].join(' and '),
        fromEndIn: Math.max(0, Math.min(positionIn, geometry.lengthIn - positionIn)),
      },
    ];
  });
}
