import { makeCheck, qty, refuseUnless, type Check, type Editions, type Notice } from '../trace/index.ts';
import { checkBearing, checkWoodColumn, woodMember, type WoodColumnCombination } from '../wood/index.ts';
import { PRACTICE } from './clauses.ts';

interface Lumber {
  readonly species: string;
  readonly grade: string;
  readonly size: string;
}

/** Blocks on end between the floor sheathing and the sill, plate or girder below, so that the load skips the joists. */
export interface SquashBlocksInput {
  readonly end: 'left' | 'right';
  readonly blocks: Lumber & { readonly count: number };
  /** Depth of the floor that they bridge. */
  readonly heightIn: number;
  /** The wood they stand on. */
  readonly below: Lumber & { readonly endDistanceIn: number };
  /** Length of the pack's plate along the wall: blocks beyond it carry nothing. */
  readonly packAlongIn: number;
  readonly combinations: readonly WoodColumnCombination[];
  readonly editions: Editions;
}

/**
 * Squash blocks under a pack on a framed floor: each a short stud (NDS 3.7, unbraced both ways), together on the
 * wood below (NDS 3.10), and all of them within the pack. Refuses counts that are not whole and unknown lumber.
 */
export function checkSquashBlocks(input: SquashBlocksInput): Check[] {
  const { blocks, below, editions, end } = input;
  refuseUnless(
    Number.isInteger(blocks.count) && blocks.count >= 1,
    `squashBlocks.${end}.count`,
    'The number of squash blocks is a whole number, 1 or more.',
  );
  const id = `squash.${end}`;
  const one = woodMember({ kind: 'sawn', ...blocks, plies: 1 }, editions.nds, id);
  const heaviest = Math.max(0, ...input.combinations.map((combination) => combination.axialLb));
  const sill = woodMember({ kind: 'sawn', ...below, plies: 1 }, editions.nds, `${id}.below`);
  return [
    ...checkWoodColumn({
      id,
      edition: editions.nds,
      member: one,
      fastening: 'solid',
      heightIn: input.heightIn,
      combinations: input.combinations.map((combination) => ({
        ...combination,
        axialLb: combination.axialLb / blocks.count,
      })),
    }),
    checkBearing({
      id: `${id}.bearing`,
      title: 'Wood under the squash blocks',
      material: sill.material,
      edition: editions.nds,
      loadLb: heaviest / blocks.count,
      lengthIn: one.plyThicknessIn,
      widthIn: one.depthIn,
      endDistanceIn: below.endDistanceIn,
    }),
    makeCheck({
      id: `${id}.fit`,
      title: 'Squash blocks under the pack',
      clause: PRACTICE,
      demand: qty(blocks.count * one.plyThicknessIn, 'in'),
      capacity: qty(input.packAlongIn, 'in'),
      sentence: (passes) =>
        passes
          ? 'All blocks stand under the pack.'
          : 'Some blocks would stand beside the pack and carry nothing: use thicker ones, or a solid block.',
    }),
  ];
}

/** A post in a crawl space or basement under a girder, straight below the pack. */
export interface GirderPostInput {
  readonly end: 'left' | 'right';
  readonly post: Lumber;
  readonly heightIn: number;
  readonly girder: Lumber & { readonly plies: number };
  /** From the post to the nearer end of the girder. */
  readonly girderEndDistanceIn: number;
  /** From the pack's middle to the post's middle, along the girder. */
  readonly offPostIn: number;
  readonly combinations: readonly WoodColumnCombination[];
  readonly editions: Editions;
}

/** The pack may miss the post by half the girder's depth (the load goes straight down into the bearing). Common practice. */
const OFF_POST_DEPTHS = 0.5;

/**
 * Girder post below a pack: post as a column (NDS 3.7), girder crushed across the grain on its top (NDS 3.10), and
 * the pack close enough to the post not to bend the girder. Further off, the girder has to be calculated as a beam.
 */
export function checkGirderPost(input: GirderPostInput): {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
} {
  const { editions, end } = input;
  const id = `girder-post.${end}`;
  const post = woodMember({ kind: 'sawn', ...input.post, plies: 1 }, editions.nds, `${id}.post`);
  const girder = woodMember({ kind: 'sawn', ...input.girder }, editions.nds, `${id}.girder`);
  const heaviest = Math.max(0, ...input.combinations.map((combination) => combination.axialLb));
  return {
    checks: [
      ...checkWoodColumn({
        id,
        edition: editions.nds,
        member: post,
        fastening: 'solid',
        heightIn: input.heightIn,
        combinations: input.combinations,
      }),
      checkBearing({
        id: `${id}.bearing`,
        title: 'Girder on its post',
        material: girder.material,
        edition: editions.nds,
        loadLb: heaviest,
        lengthIn: post.depthIn,
        widthIn: Math.min(girder.breadthIn, post.breadthIn),
        endDistanceIn: input.girderEndDistanceIn,
      }),
      makeCheck({
        id: `${id}.over`,
        title: 'Pack over the post',
        clause: PRACTICE,
        demand: qty(Math.abs(input.offPostIn), 'in'),
        capacity: qty(OFF_POST_DEPTHS * girder.depthIn, 'in'),
        sentence: (passes) =>
          passes
            ? 'The pack stands over the post.'
            : 'The pack stands beside the post: the girder bends under it. Calculate the girder, or set a post and footing under the pack.',
      }),
    ],
    notices: [
      {
        id: `${id}.existing-load`,
        severity: 'caution',
        text: 'Add what the girder brings to this post already; the load of the pack comes on top of it.',
        clause: PRACTICE,
      },
    ],
  };
}
