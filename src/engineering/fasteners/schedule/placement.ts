import type { FasteningRow } from './row.ts';

/** One fastener on the face of the outer piece: x along the piece, y across, from its lower left corner, in. */
export interface Placed {
  readonly xIn: number;
  readonly yIn: number;
  readonly rowIndex: number;
  readonly from: 'near side' | 'far side';
}

/** Across the nailed face of the pieces the narrowest governs, in. */
export function faceWidthIn(row: FasteningRow): number {
  return Math.min(
    ...row.members.filter((member) => member.material !== 'concrete').map((member) => member.widthIn),
  );
}

/** Fasteners in one row of the pattern. */
export function countPerRow(row: FasteningRow): number {
  const { pattern } = row;
  if (pattern.kind === 'count') return Math.ceil(pattern.count / pattern.rows);
  const clearIn = pattern.lengthIn - 2 * row.endDistanceIn;
  return clearIn < 0 ? 0 : Math.floor(clearIn / pattern.spacingIn + 1e-9) + 1;
}

export function totalCount(row: FasteningRow): number {
  return row.pattern.kind === 'count' ? row.pattern.count : countPerRow(row) * row.pattern.rows;
}

/** Distance of the far edge from the last row, in; negative where the rows leave the piece. */
export function farEdgeDistanceIn(row: FasteningRow): number {
  const { rows, rowSpacingIn, staggered } = row.pattern;
  // A single staggered row swings to either side of the middle, as far from one edge as from the other.
  if (rows === 1) return staggered ? row.edgeDistanceIn : faceWidthIn(row) - row.edgeDistanceIn;
  return faceWidthIn(row) - row.edgeDistanceIn - (rows - 1) * rowSpacingIn;
}

function yOf(row: FasteningRow, rowIndex: number, place: number): number {
  const { rows, rowSpacingIn, staggered } = row.pattern;
  if (rows === 1 && staggered && place % 2 === 1) return faceWidthIn(row) - row.edgeDistanceIn;
  return row.edgeDistanceIn + rowIndex * rowSpacingIn;
}

/** The whole pattern, fastener by fastener; an incomplete last row is filled from the left. */
export function placeFasteners(row: FasteningRow): readonly Placed[] {
  const { pattern } = row;
  const perRow = countPerRow(row);
  const placed: Placed[] = [];
  for (let rowIndex = 0; rowIndex < pattern.rows; rowIndex += 1) {
    const offsetIn = pattern.staggered && rowIndex % 2 === 1 ? pattern.spacingIn / 2 : 0;
    for (let place = 0; place < perRow; place += 1) {
      if (pattern.kind === 'count' && placed.length >= pattern.count) return placed;
      const xIn = row.endDistanceIn + place * pattern.spacingIn + offsetIn;
      const offEnd = pattern.kind === 'spaced' && xIn > pattern.lengthIn - row.endDistanceIn + 1e-9;
      if (offEnd && offsetIn > 0) continue;
      const alternate = row.driven === 'one side' ? false : (place + rowIndex) % 2 === 1;
      placed.push({
        xIn,
        yIn: yOf(row, rowIndex, place),
        rowIndex,
        from: alternate ? 'far side' : 'near side',
      });
    }
  }
  return placed;
}
