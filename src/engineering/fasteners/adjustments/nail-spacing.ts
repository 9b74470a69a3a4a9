/**
 * Spacing of nails and small screws that keeps wood from splitting: recommended in the NDS Commentary,
 * Table C12.1.6.6 (wood and steel side members, not prebored and prebored). The standard itself only asks
 * that the wood does not split (12.1.6.6), so these are advice, not a pass or fail. Multiples of D, from memory.
 */
export interface NailSpacing {
  readonly edge: number;
  readonly endTension: number;
  readonly endCompression: number;
  /** Rows run along the piece, so along the grain. */
  readonly inRow: number;
  readonly betweenRowsInLine: number;
  readonly betweenRowsStaggered: number;
}

const WOOD_SIDE: Readonly<Record<'driven' | 'prebored', NailSpacing>> = {
  driven: {
    edge: 2.5,
    endTension: 15,
    endCompression: 10,
    inRow: 15,
    betweenRowsInLine: 5,
    betweenRowsStaggered: 2.5,
  },
  prebored: {
    edge: 2.5,
    endTension: 10,
    endCompression: 5,
    inRow: 10,
    betweenRowsInLine: 3,
    betweenRowsStaggered: 2.5,
  },
};

const STEEL_SIDE: Readonly<Record<'driven' | 'prebored', NailSpacing>> = {
  driven: {
    edge: 2.5,
    endTension: 10,
    endCompression: 5,
    inRow: 10,
    betweenRowsInLine: 3,
    betweenRowsStaggered: 2.5,
  },
  prebored: {
    edge: 2.5,
    endTension: 5,
    endCompression: 3,
    inRow: 5,
    betweenRowsInLine: 2.5,
    betweenRowsStaggered: 2.5,
  },
};

export function recommendedNailSpacing(steelSide: boolean, prebored: boolean): NailSpacing {
  return (steelSide ? STEEL_SIDE : WOOD_SIDE)[prebored ? 'prebored' : 'driven'];
}
