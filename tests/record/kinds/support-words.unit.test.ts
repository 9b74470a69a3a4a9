import { expect, it } from 'vitest';
import { demoSupports } from '../../../src/demo/cinder-ferry.ts';
import { supportKind } from '../../../src/record/kinds/support/kind.ts';

it('says what carries the load on below the floor: what a set holds, its readers must see', () => {
  const lumber = { species: 'DF-L', grade: 'No.2', size: '2x4' } as const;
  const post = { ...lumber, size: '6x6' };
  const { squashBlocks: _blocks, girderPost: _post, ...support } = demoSupports[0]!;
  const plain = supportKind.describe(support);
  const squashBlocks = { ...lumber, count: 3, heightIn: 9.25, on: post, endDistanceIn: 6 };
  expect(supportKind.describe({ ...support, squashBlocks }).slice(plain.length)).toEqual([
    `3 squash blocks 2x4 DF-L No.2 through 9 1/4" of floor, on 6x6 DF-L No.2`,
  ]);
  const girder = { ...lumber, size: '2x10', plies: 2 };
  const girderPost = { ...post, heightIn: 36, girder, girderEndDistanceIn: 0, offPostIn: 0 };
  expect(supportKind.describe({ ...support, girderPost }).slice(plain.length)).toEqual([
    `Post 6x6 DF-L No.2, 3'-0" high, under the girder of 2 2x10 DF-L No.2`,
  ]);
});
