import { effectivePad } from '../../engineering/foundation/index.ts';
import { sawnSize } from '../../engineering/materials/lumber-sizes.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Support } from '../../engineering/proposal/design.ts';
import { seatedJacks } from '../../engineering/proposal/seated-jacks.ts';
import { formatQuantity, refuseUnless, type Check } from '../../engineering/trace/index.ts';
import { tape } from '../drawings/dimensions.ts';
import { footingPlan, footingSection, type DrawnFooting, type DrawnPly } from '../drawings/scaled/index.ts';
import { scaledPicture, type Picture } from './picture.ts';

export interface FootingProposal {
  readonly footing: Footing;
  /** The pack that stands on it. */
  readonly support: Support;
  readonly packWords: string;
  readonly beam: Pick<Beam, 'bearingLeftIn' | 'bearingRightIn'>;
  readonly editions: Criteria['editions'];
  /** Of the calculation: what the soil is asked and allowed; left out where there is none. */
  readonly soil?: Pick<Check, 'demand' | 'capacity' | 'passes'>;
}

/**
 * What is under one pack: a section across the wall, and the concrete from above with each stud on it.
 *
 * @param id unique on the page
 * @throws Refusal for unknown lumber, and where what was found is narrower than what stands on it
 */
export function footingPictures(id: string, proposal: FootingProposal): readonly Picture[] {
  const drawn = drawnFooting(proposal);
  return [
    scaledPicture(`${id}-section`, (scale) => footingSection(drawn, scale)),
    scaledPicture(`${id}-plan`, (scale) => footingPlan(drawn, scale)),
  ];
}

function drawnFooting({ footing, support, packWords, beam, editions, soil }: FootingProposal): DrawnFooting {
  refuseUnless(support.end === footing.end, 'end', 'The pack stands at the other end.');
  const { found, foundWidthIn, foundThicknessIn, pad } = footing;
  const packWidthIn = sawnSize(support.size, 'size').widthIn;
  const seatIn = seatedJacks(beam, support).lengthIn;
  const known = found !== 'nothing known' && foundWidthIn > 0 && foundThicknessIn > 0;
  const foundWords = `found (${found}): ${tape(foundWidthIn)} wide, ${tape(foundThicknessIn)} thick`;
  const counted =
    pad !== undefined
      ? {
          what: 'new pad' as const,
          ...pad,
          words: `new pad, ${tape(pad.widthIn)} across, ${tape(pad.lengthIn)} along the wall, f′c ${footing.concretePsi} psi`,
        }
      : known
        ? countedOn(footing, { alongIn: seatIn, acrossIn: packWidthIn }, editions, foundWords)
        : undefined;
  const pressure = soil && {
    words: `presses on the soil with ${formatQuantity(soil.demand)}; ${soil.passes ? '' : 'no more than '}${formatQuantity(soil.capacity)} is allowed`,
    warns: !soil.passes,
  };
  return {
    support,
    packWords,
    packWidthIn,
    plies: pliesOf(beam, support),
    ...(counted === undefined ? {} : { counted }),
    ...(known
      ? {
          found: {
            widthIn: foundWidthIn,
            thicknessIn: foundThicknessIn,
            words: pad === undefined ? foundWords : `${foundWords}; the pad takes its place`,
          },
        }
      : {}),
    ...(pressure === undefined ? {} : { pressure }),
    descriptions: describe(counted, packWords, `${tape(seatIn)} by ${tape(packWidthIn)}`, pressure?.words),
  };
}

function describe(
  counted: DrawnFooting['counted'],
  packWords: string,
  seatWords: string,
  pressureWords: string | undefined,
): DrawnFooting['descriptions'] {
  if (counted === undefined) {
    const nothing = `${packWords}; nothing is known of what is under it.`;
    return { section: nothing, plan: nothing };
  }
  const { widthIn, lengthIn, thicknessIn } = counted;
  const [what, counts] =
    counted.what === 'new pad' ? ['New pad', 'New pad'] : ['Concrete found', 'Of the concrete found count'];
  return {
    section: `${what} ${tape(thicknessIn)} thick under ${packWords}; ${tape(widthIn)} across the wall carry.${pressureWords === undefined ? '' : ` It ${pressureWords}.`}`,
    plan: `${counts} ${tape(lengthIn)} along and ${tape(widthIn)} across the wall. What carries the beam takes ${seatWords} in the middle.`,
  };
}

function countedOn(
  { foundWidthIn, foundThicknessIn }: Footing,
  footprint: { readonly alongIn: number; readonly acrossIn: number },
  editions: Criteria['editions'],
  foundWords: string,
) {
  const { pad } = effectivePad({ widthIn: foundWidthIn, thicknessIn: foundThicknessIn }, footprint, editions);
  return {
    what: 'concrete found' as const,
    widthIn: pad.acrossIn,
    lengthIn: pad.alongIn,
    thicknessIn: pad.thicknessIn,
    words: `${foundWords}; ${tape(pad.acrossIn)} of it spread the load`,
  };
}

/** As the calculation counts them, at dressed sizes: jacks outward from the opening, those under the beam first. */
function pliesOf(beam: FootingProposal['beam'], support: Support): DrawnPly[] {
  const { thicknessIn } = sawnSize(support.size, 'size');
  const { lengthIn: seatIn, beside } = seatedJacks(beam, support);
  const outward = support.end === 'left' ? -1 : 1;
  const post = support.kind === 'post';
  const jacks = post ? 1 : support.jacks;
  const names = [
    ...Array.from({ length: jacks }, (_, index) => (post ? 'post' : `jack ${index + 1}`)),
    ...Array.from({ length: support.kings }, (_, index) => `king ${index + 1}`),
  ];
  return names.map((label, index) => {
    const near = outward * (index * thicknessIn - seatIn / 2);
    const far = near + outward * thicknessIn;
    return {
      label,
      fromIn: Math.min(near, far),
      toIn: Math.max(near, far),
      carries: index < jacks - beside,
    };
  });
}
