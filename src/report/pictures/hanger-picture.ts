import { beamOutline, JOIST_GAP_IN, USUAL_PACK_PLY_IN } from '../../engineering/layout/index.ts';
import { sawnSize } from '../../engineering/materials/lumber-sizes.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Hanger } from '../../engineering/proposal/design.ts';
import { HANGER_PLATE_IN } from '../../engineering/proposal/hanger.ts';
import { formatQuantity, refuseUnless, type Check } from '../../engineering/trace/index.ts';
import { minimumBearingIn } from '../../engineering/wood/irc/minimum-bearing.ts';
import { tape } from '../drawings/dimensions.ts';
import { hangerFront, hangerSide, type DrawnHanger } from '../drawings/scaled/index.ts';
import { scaledPicture, type Picture } from './picture.ts';

export interface HangerProposal {
  readonly hanger: Hanger;
  readonly beam: Beam;
  /** The nails of one hanger in trade words. */
  readonly nailWords: string;
  readonly editions: Criteria['editions'];
  /** Of the calculation: one joist end against the listing; left out where there is none. */
  readonly load?: Pick<Check, 'demand' | 'capacity' | 'passes'>;
}

/**
 * One line of hangers: a joist at the beam from the side, and the face of the beam with its joists at their spacing.
 *
 * @param id unique on the page
 * @throws Refusal for a dropped beam and unknown lumber
 */
export function hangerPictures(id: string, proposal: HangerProposal): readonly Picture[] {
  const drawn = drawnHanger(proposal);
  return [
    scaledPicture(`${id}-side`, (scale) => hangerSide(drawn, scale)),
    scaledPicture(`${id}-front`, (scale) => hangerFront(drawn, scale)),
  ];
}

function drawnHanger({ hanger, beam, nailWords, editions, load }: HangerProposal): DrawnHanger {
  refuseUnless(beam.placement === 'flush', 'side', 'Joists stand on a dropped beam: nothing hangs from it.');
  const joist = sawnSize(hanger.joistSize, 'joistSize');
  const outline = beamOutline(beam.member, editions, USUAL_PACK_PLY_IN);
  const beamWords = outline.pieces
    .map(({ count, label }) => (count > 1 ? `${count} x ${label}` : label))
    .join(' + ');
  const lower = outline.depthIn - joist.widthIn;
  const reach =
    Math.abs(lower) < 1 / 32
      ? 'their undersides are level'
      : lower > 0
        ? `the beam reaches ${tape(lower)} below it`
        : `it reaches ${tape(-lower)} below the beam`;
  const loadWords =
    load &&
    (load.capacity.value > 0
      ? `one joist end brings ${formatQuantity(load.demand)}; ${load.passes ? '' : 'no more than '}${formatQuantity(load.capacity)} is listed`
      : `one joist end brings ${formatQuantity(load.demand)}; no listing yet`);
  return {
    side: hanger.side,
    beam: outline,
    beamWords,
    joist: { thicknessIn: joist.thicknessIn, depthIn: joist.widthIn, words: hanger.joistSize },
    gapIn: JOIST_GAP_IN,
    spacingIn: hanger.spacingIn,
    seatIn: minimumBearingIn('wood or metal'),
    plateIn: HANGER_PLATE_IN,
    nails: {
      count: hanger.nailCount,
      diameterIn: hanger.nailDiameterIn,
      lengthIn: hanger.nailLengthIn,
      words: nailWords,
    },
    ...(load === undefined || loadWords === undefined
      ? {}
      : { load: { words: loadWords, warns: !load.passes } }),
    descriptions: {
      side: `A ${hanger.joistSize} joist, ${tape(joist.widthIn)} deep, in a hanger on ${beamWords}, ${tape(outline.depthIn)} deep. Tops are level; ${reach}.${loadWords === undefined ? '' : ` Of the load, ${loadWords}.`}`,
      front: `${hanger.joistSize} joists ${tape(hanger.spacingIn)} center to center, each in a hanger with ${nailWords}.`,
    },
  };
}
