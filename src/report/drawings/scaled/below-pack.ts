import { DRESSED_2X_IN } from '../../../engineering/layout/index.ts';
import { sawnSize } from '../../../engineering/materials/lumber-sizes.ts';
import type { Support } from '../../../engineering/proposal/design.ts';
import type { Hatching, Layer, Outline } from './figure.ts';

/** How far below the floor line the wood under a pack reaches, inches, and its pieces across the wall. */
export interface BelowPack {
  readonly pieces: readonly Outline[];
  readonly depthIn: number;
}

const NOTHING: BelowPack = { pieces: [], depthIn: 0 };

/**
 * What carries a pack through a framed floor: squash blocks on end, the wood that they stand on, and the post under a
 * girder. A girder under a bearing wall runs along it, so that it is cut; a post beside the pack is behind the cut.
 *
 * @throws Refusal where a size is none of sawn lumber
 */
export function belowPack(support: Support | undefined): BelowPack {
  if (support?.squashBlocks === undefined) return NOTHING;
  const { end, squashBlocks, girderPost } = support;
  const at = (field: string) => `supports.${end}.${field}`;
  const pieces: Outline[] = [];
  let depthIn = 0;
  const add = (layer: Layer, piece: string, size: Size, hatching?: Hatching, hidden?: boolean) => {
    depthIn += size.height;
    pieces.push({
      form: 'outline',
      layer,
      piece,
      x: -size.width / 2,
      y: -depthIn,
      width: size.width,
      height: size.height,
      ...(hatching === undefined ? {} : { hatching }),
      ...(hidden === true ? { hidden } : {}),
    });
  };
  const block = sawnSize(squashBlocks.size, at('squashBlocks.size'));
  add('JACKS AND POSTS', 'squash blocks', { width: block.widthIn, height: squashBlocks.heightIn });
  if (girderPost === undefined) {
    const on = sawnSize(squashBlocks.on.size, at('squashBlocks.on.size'));
    // A sill or plate of two-inch lumber lies flat; anything thicker stands.
    const flat = on.thicknessIn <= DRESSED_2X_IN;
    add(
      'PLATES',
      'wood under the blocks',
      flat ? { width: on.widthIn, height: on.thicknessIn } : { width: on.thicknessIn, height: on.widthIn },
      'end grain',
    );
    return { pieces, depthIn };
  }
  const { girder } = girderPost;
  const ply = sawnSize(girder.size, at('girderPost.girder.size'));
  add('PLATES', 'girder', { width: girder.plies * ply.thicknessIn, height: ply.widthIn }, 'end grain');
  const post = sawnSize(girderPost.size, at('girderPost.size'));
  add(
    'JACKS AND POSTS',
    'post under the girder',
    { width: post.widthIn, height: girderPost.heightIn },
    undefined,
    girderPost.offPostIn > 0,
  );
  return { pieces, depthIn };
}

interface Size {
  readonly width: number;
  readonly height: number;
}
