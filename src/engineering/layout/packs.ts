import { sawnSize } from '../materials/lumber-sizes.ts';
import type { Support } from '../proposal/design.ts';
import { positive, refuseUnless } from '../trace/index.ts';
import { DRESSED_2X_IN } from './measured.ts';

/** A stud or post of a pack, along the wall from the datum; `inner` is the edge toward the opening. */
export interface PackPly {
  readonly id: string;
  readonly kind: 'jack' | 'king' | 'post';
  readonly label: string;
  readonly fromIn: number;
  readonly toIn: number;
  readonly lengthIn: number;
}

export interface Pack {
  readonly end: 'left' | 'right';
  readonly plies: readonly PackPly[];
  readonly fromIn: number;
  readonly toIn: number;
  /** Along the wall, jacks or post alone: what the beam can sit on. */
  readonly seatIn: number;
  /** Across the wall. */
  readonly widthIn: number;
  /** Underside of the beam above the bottom plate. */
  readonly heightIn: number;
}

/**
 * Jacks (or the post) from the face of the opening outward, then the kings, each as thick as measured.
 * Refuses a pack that reaches past the wall.
 */
export function packAt(
  support: Support,
  faceIn: number,
  wallLengthIn: number,
  kingLengthIn: number,
  plyIn: number,
): Pack {
  const size = sawnSize(support.size, `supports.${support.end}.size`);
  const ply = size.thicknessIn === DRESSED_2X_IN ? plyIn : size.thicknessIn;
  const outward = support.end === 'left' ? -1 : 1;
  const plies: PackPly[] = [];
  let edge = faceIn;
  const add = (kind: PackPly['kind'], number: number, thickness: number, lengthIn: number): void => {
    const far = edge + outward * thickness;
    plies.push({
      id: `${support.end}.${kind}.${number}`,
      kind,
      label: kind === 'post' ? `${support.end} post` : `${support.end} ${kind} ${number}`,
      fromIn: Math.min(edge, far),
      toIn: Math.max(edge, far),
      lengthIn,
    });
    edge = far;
  };
  const height = positive(support.heightIn, `supports.${support.end}.heightIn`);
  if (support.kind === 'post') add('post', 1, size.thicknessIn, height);
  else for (let jack = 1; jack <= support.jacks; jack += 1) add('jack', jack, ply, height);
  const seatIn = Math.abs(edge - faceIn);
  for (let king = 1; king <= support.kings; king += 1) add('king', king, ply, kingLengthIn);
  const fromIn = Math.min(faceIn, edge);
  const toIn = Math.max(faceIn, edge);
  refuseUnless(
    fromIn >= 0 && toIn <= wallLengthIn,
    `supports.${support.end}`,
    `The ${support.end} pack would reach past the end of the wall.`,
  );
  return { end: support.end, plies, fromIn, toIn, seatIn, widthIn: size.widthIn, heightIn: height };
}
