import { refuseUnless } from '../../engineering/trace/refusal.ts';
import { box, line, text, textWidth, type Material } from './pens.ts';
import { group } from './svg.ts';
import type { Extent, Piece, PieceKind } from './types.ts';

/** The sheet all drawings share. */
export const SHEET_WIDTH = 760;
const SIDE = 48;
const TALLEST = 400;

const MATERIAL: Readonly<Record<PieceKind, Material>> = {
  jack: 'lumber',
  king: 'lumber',
  post: 'lumber',
  beam: 'lumber',
  plate: 'sheet',
  stud: 'sheet',
  shore: 'lumber',
  joist: 'sheet',
  pad: 'concrete',
};

/** Inches to drawing units, the same scale along and up. */
export interface Scale {
  readonly unitsPerInch: number;
  readonly toX: (alongIn: number) => number;
  /** Needs the y of the floor. */
  readonly toY: (upIn: number, floorY: number) => number;
  readonly highestIn: number;
  readonly lowestIn: number;
}

/** One scale for length and height that fits everything on the sheet. */
export function elevationScale(wallLengthIn: number, wallHeightIn: number, pieces: readonly Piece[]): Scale {
  refuseUnless(wallLengthIn > 0, 'wallLengthIn', 'A wall without length can not be drawn.');
  refuseUnless(wallHeightIn > 0, 'wallHeightIn', 'A wall without height can not be drawn.');
  for (const piece of pieces) {
    refuseUnless(
      piece.toIn > piece.fromIn && piece.topIn > piece.bottomIn,
      'pieces',
      `“${piece.label ?? piece.kind}” has no size, so it can not be drawn.`,
    );
  }
  const leftIn = Math.min(0, ...pieces.map((piece) => piece.fromIn));
  const rightIn = Math.max(wallLengthIn, ...pieces.map((piece) => piece.toIn));
  const lowestIn = Math.min(0, ...pieces.map((piece) => piece.bottomIn));
  const highestIn = Math.max(wallHeightIn, ...pieces.map((piece) => piece.topIn));
  const unitsPerInch = Math.min(
    (SHEET_WIDTH - 2 * SIDE) / (rightIn - leftIn),
    TALLEST / (highestIn - lowestIn),
  );
  const startX = (SHEET_WIDTH - (rightIn - leftIn) * unitsPerInch) / 2;
  return {
    unitsPerInch,
    toX: (alongIn) => startX + (alongIn - leftIn) * unitsPerInch,
    toY: (upIn, floorY) => floorY - upIn * unitsPerInch,
    highestIn,
    lowestIn,
  };
}

export function drawPiece(piece: Piece, scale: Scale, floorY: number): string {
  const x = scale.toX(piece.fromIn);
  const y = scale.toY(piece.topIn, floorY);
  const width = scale.toX(piece.toIn) - x;
  const height = scale.toY(piece.bottomIn, floorY) - y;
  const strong = piece.kind === 'beam';
  const parts = [
    box({ x, y, width, height }, MATERIAL[piece.kind], { width: strong ? 2 : 1.1, name: piece.kind }),
  ];
  if (piece.label !== undefined && textWidth(piece.label, 12) < width - 8) {
    // A piece thinner than a line of words carries its name just below.
    const inside = height >= 16;
    parts.push(
      text(x + width / 2, inside ? y + height / 2 + 4.5 : y + height + 14, piece.label, {
        anchor: 'middle',
        size: 12,
        bold: strong,
      }),
    );
  }
  return group(`dw-piece dw-piece--${piece.kind}`, ...parts);
}

/** The wall that stays on either side of the opening, and the floor line. */
export function drawWall(
  wall: { readonly lengthIn: number; readonly heightIn: number },
  opening: Extent,
  scale: Scale,
  floorY: number,
): string {
  refuseUnless(
    opening.toIn > opening.fromIn && opening.fromIn >= 0 && opening.toIn <= wall.lengthIn,
    'opening',
    'The opening must lie within the wall.',
  );
  const top = scale.toY(wall.heightIn, floorY);
  const stays: readonly Extent[] = [
    { fromIn: 0, toIn: opening.fromIn },
    { fromIn: opening.toIn, toIn: wall.lengthIn },
  ];
  const left = scale.toX(0);
  const right = scale.toX(wall.lengthIn);
  return group(
    'dw-wall',
    ...stays
      .filter((part) => part.toIn > part.fromIn)
      .map((part) =>
        box(
          {
            x: scale.toX(part.fromIn),
            y: top,
            width: scale.toX(part.toIn) - scale.toX(part.fromIn),
            height: floorY - top,
          },
          'existing',
          { width: 0.75, name: 'wall' },
        ),
      ),
    line(left, top, right, top, { width: 0.75, dash: '6 4', tone: 'soft' }),
    line(left - 24, floorY, right + 24, floorY, { width: 2.5 }),
  );
}
