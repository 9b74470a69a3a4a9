import { governingCheck, notNegative, positive, refuseUnless } from '../trace/index.ts';
import { checkPad, CONCRETE_PCF, type Pad, type PadInput } from './pad.ts';
import { THINNEST_FOOTING_IN } from './plain-concrete.ts';

/** Forms and pits are set out in two-inch steps. Common practice. */
export const PAD_MODULE_IN = 2;
/** Beyond this a plain pad is no sensible answer; ask for a reinforced one. */
const THICKEST_PAD_IN = 48;

/**
 * The thinnest, then smallest plain concrete pad that passes every check, square unless `acrossLimitIn` keeps it
 * narrow, rounded up to 2 in. Undefined where no plain pad up to 48 in thick does.
 */
export function requiredPad(
  input: Omit<PadInput, 'pad'> & { readonly acrossLimitIn?: number },
): Pad | undefined {
  const soil = positive(input.soilBearingPsf, 'soilBearingPsf');
  const service = notNegative(input.serviceLb, 'serviceLb');
  const limit = input.acrossLimitIn ?? Infinity;
  refuseUnless(
    limit >= input.footprint.acrossIn,
    'acrossLimitIn',
    'The room for a pad is narrower than what stands on it.',
  );
  const up = (value: number) => Math.ceil(value / PAD_MODULE_IN - 1e-9) * PAD_MODULE_IN;
  // The room there is, in whole steps; less than a step over the pack: all of it.
  const steps = Math.floor(limit / PAD_MODULE_IN) * PAD_MODULE_IN;
  const widest = steps >= input.footprint.acrossIn ? steps : limit;
  for (let thicknessIn = THINNEST_FOOTING_IN; thicknessIn <= THICKEST_PAD_IN; thicknessIn += PAD_MODULE_IN) {
    const netPsf = soil - (CONCRETE_PCF * thicknessIn) / 12;
    if (netPsf <= 0) return undefined;
    const areaIn2 = (service / netPsf) * 144;
    const side = up(Math.max(Math.sqrt(areaIn2), input.footprint.acrossIn, input.footprint.alongIn));
    const pad: Pad =
      side <= limit
        ? { alongIn: side, acrossIn: side, thicknessIn }
        : { alongIn: up(Math.max(areaIn2 / widest, input.footprint.alongIn)), acrossIn: widest, thicknessIn };
    const worst = governingCheck(checkPad('pad', { ...input, pad }));
    if (worst?.passes === true) return pad;
  }
  return undefined;
}
