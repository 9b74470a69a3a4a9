/** A scale of house drawings, as it is written on them. */
export interface DrawingScale {
  /** 1/2" = 1'-0" */
  readonly name: string;
  /** Inches of paper for an inch of the real thing. */
  readonly paperPerInch: number;
}

const perFoot = (name: string, inches: number): DrawingScale => ({
  name: `${name}" = 1'-0"`,
  paperPerInch: inches / 12,
});

/** The customary scales of an architect's rule, largest first. Common practice. */
export const SCALES: readonly DrawingScale[] = [
  perFoot('3', 3),
  perFoot('1 1/2', 1.5),
  perFoot('1', 1),
  perFoot('3/4', 3 / 4),
  perFoot('1/2', 1 / 2),
  perFoot('3/8', 3 / 8),
  perFoot('1/4', 1 / 4),
  perFoot('3/16', 3 / 16),
  perFoot('1/8', 1 / 8),
  perFoot('3/32', 3 / 32),
  perFoot('1/16', 1 / 16),
];

export interface PaperRoom {
  readonly widthIn: number;
  readonly heightIn: number;
}

interface Bounded {
  readonly bounds: {
    readonly left: number;
    readonly bottom: number;
    readonly right: number;
    readonly top: number;
  };
}

/** Does a drawing at this scale fit the paper that is there for it? */
export function fits({ bounds }: Bounded, scale: DrawingScale, room: PaperRoom): boolean {
  return (
    (bounds.right - bounds.left) * scale.paperPerInch <= room.widthIn &&
    (bounds.top - bounds.bottom) * scale.paperPerInch <= room.heightIn
  );
}

/** The drawing at the largest scale that fits; at the smallest where none does. */
export function atLargestScale<Drawn extends Bounded>(
  draw: (scale: DrawingScale) => Drawn,
  room: PaperRoom,
): Drawn {
  let drawn: Drawn | undefined;
  for (const scale of SCALES) {
    drawn = draw(scale);
    if (fits(drawn, scale, room)) return drawn;
  }
  if (drawn === undefined) throw new Error('There are no scales.');
  return drawn;
}
