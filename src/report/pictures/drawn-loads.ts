import type { Load } from '../../engineering/loads/load.ts';
import type { DrawnLineLoad, DrawnPointLoad, LoadKind } from '../drawings/index.ts';

function kindOf(load: Load, amount: number): LoadKind {
  switch (load.kind) {
    case 'D':
      return load.source.kind === 'member' ? 'selfWeight' : 'dead';
    case 'L':
      return 'live';
    case 'Lr':
      return 'roofLive';
    case 'S':
      return 'snow';
    case 'W':
      return amount < 0 ? 'uplift' : 'wind';
  }
}

/** Each way for the snow to lie is a load of its own, so that its name is part of the label. */
function labelOf(load: Load): string {
  return load.snowCase === undefined || load.snowCase === 'balanced'
    ? load.label
    : `${load.label}, ${load.snowCase}`;
}

/**
 * Loads along the wall that are not zero.
 *
 * @param fromIn where the loads' own zero lies, from the datum, in
 */
export function drawnLineLoads(loads: readonly Load[], fromIn: number): DrawnLineLoad[] {
  return loads.flatMap((load): DrawnLineLoad[] => {
    if (load.form !== 'line' || load.loadPlf === 0) return [];
    const plf = Math.abs(load.loadPlf);
    return [
      {
        kind: kindOf(load, load.loadPlf),
        label: labelOf(load),
        fromIn: fromIn + load.fromIn,
        toIn: fromIn + load.toIn,
        startPlf: plf,
        endPlf: plf,
      },
    ];
  });
}

/**
 * One arrow for each place and source, its kinds side by side.
 *
 * @param fromIn where the loads' own zero lies, from the datum, in
 */
export function drawnPointLoads(loads: readonly Load[], fromIn: number): DrawnPointLoad[] {
  const found = new Map<string, { label: string; atIn: number; parts: DrawnPointLoad['parts'][number][] }>();
  for (const load of loads) {
    if (load.form !== 'point' || load.loadLb === 0) continue;
    const label = labelOf(load);
    const key = `${load.positionIn}|${label}`;
    const entry = found.get(key) ?? { label, atIn: fromIn + load.positionIn, parts: [] };
    entry.parts.push({ kind: kindOf(load, load.loadLb), loadLb: Math.abs(load.loadLb) });
    found.set(key, entry);
  }
  return [...found.values()];
}
