import { z } from 'zod';

/** The steps of the job that wait for material, in the order in which they usually come. */
export const materialSteps = ['shoring', 'footings', 'packs', 'beam', 'joists'] as const;
export type MaterialStep = (typeof materialSteps)[number];

const name = (label: string) =>
  z.string().trim().min(1, `${label}: fill this in.`).max(60, `${label}: at most 60 characters.`);
const positiveIn = z.number().positive().max(1200);
/** As measured with a tape or a caliper; left out where nobody measured. */
const measuredIn = positiveIn.optional();

/**
 * What one line of a list asks for, and what arrived, in the same words: so that the two can be compared. Lengths are
 * those of the stick, thickness and depth of one piece.
 */
export const sawnGoodsSchema = z.strictObject({
  kind: z.literal('sawn'),
  species: name('Species'),
  grade: name('Grade'),
  size: z.string().regex(/^\d{1,2}x\d{1,2}$/, 'Size: write it as 2x6.'),
  treated: z.boolean(),
  lengthIn: positiveIn,
  thicknessIn: measuredIn,
  depthIn: measuredIn,
});
export const compositeGoodsSchema = z.strictObject({
  kind: z.literal('composite'),
  /** 'LVL 2.0E': the kind of product with its modulus class. */
  class: name('Class'),
  thicknessIn: positiveIn,
  depthIn: positiveIn,
  lengthIn: positiveIn,
});
export const glulamGoodsSchema = z.strictObject({
  kind: z.literal('glulam'),
  combination: name('Combination'),
  thicknessIn: positiveIn,
  depthIn: positiveIn,
  lengthIn: positiveIn,
});
export const steelShapeGoodsSchema = z.strictObject({
  kind: z.literal('steel shape'),
  shape: name('Shape'),
  fyKsi: z.number().positive().max(100),
  lengthIn: positiveIn,
});
export const steelPlateGoodsSchema = z.strictObject({
  kind: z.literal('steel plate'),
  thicknessIn: positiveIn,
  depthIn: positiveIn,
  lengthIn: positiveIn,
});
export const nailGoodsSchema = z.strictObject({
  kind: z.literal('nail'),
  style: z.enum(['common', 'box', 'sinker', 'pneumatic', 'connector', 'duplex']),
  diameterIn: z.number().min(0.08).max(0.375),
  lengthIn: z.number().min(0.75).max(24),
});
export const dowelGoodsSchema = z.strictObject({
  kind: z.literal('screw or bolt'),
  what: name('What it is'),
  diameterIn: z.number().positive().max(2),
  lengthIn: z.number().positive().max(48),
});
export const hangerGoodsSchema = z.strictObject({
  kind: z.literal('hanger'),
  joistSize: z.string().regex(/^\d{1,2}x\d{1,2}$/, 'Joist: write it as 2x8.'),
  /** The report that the listing is from, as on the hanger's label. */
  listing: name('Listing'),
});
export const concreteGoodsSchema = z.strictObject({
  kind: z.literal('concrete'),
  strengthPsi: z.number().min(1000).max(10000),
});

export const goodsSchema = z.discriminatedUnion('kind', [
  sawnGoodsSchema,
  compositeGoodsSchema,
  glulamGoodsSchema,
  steelShapeGoodsSchema,
  steelPlateGoodsSchema,
  nailGoodsSchema,
  dowelGoodsSchema,
  hangerGoodsSchema,
  concreteGoodsSchema,
]);
export type Goods = z.infer<typeof goodsSchema>;
export type GoodsKind = Goods['kind'];

export const goodsKinds: readonly GoodsKind[] = goodsSchema.options.map((option) => option.shape.kind.value);

/** What goods are, in trade words; what a listing isn't known of yet says so. */
export function goodsWords(goods: Goods): string {
  switch (goods.kind) {
    case 'sawn':
      return `${goods.size} ${goods.species} ${goods.grade}${goods.treated ? ', treated' : ''}`;
    case 'composite':
      return `${number(goods.thicknessIn)} x ${number(goods.depthIn)} ${goods.class}`;
    case 'glulam':
      return `${number(goods.thicknessIn)} x ${number(goods.depthIn)} glulam ${goods.combination}`;
    case 'steel shape':
      return `${goods.shape}, Fy ${number(goods.fyKsi)} ksi`;
    case 'steel plate':
      return `steel plate ${number(goods.thicknessIn)} x ${number(goods.depthIn)}`;
    case 'nail':
      return `${goods.diameterIn.toFixed(3)} x ${number(goods.lengthIn)} in ${goods.style} nail`;
    case 'screw or bolt':
      return `${number(goods.diameterIn)} x ${number(goods.lengthIn)} in ${goods.what}`;
    case 'hanger':
      return `hanger for ${goods.joistSize}, ${goods.listing}`;
    case 'concrete':
      return `concrete, ${number(goods.strengthPsi)} psi`;
  }
}

function number(value: number): string {
  return String(Number(value.toFixed(4)));
}
