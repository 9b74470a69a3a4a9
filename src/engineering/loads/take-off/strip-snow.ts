import type { Strip } from '../../proposal/survey.ts';
import { qty, type Quantity } from '../../trace/quantity.ts';
import type { Step } from '../../trace/step.ts';
import { feetFromInches } from '../../units/conversions.ts';
import type { SnowCase } from '../load.ts';
import type { SlopeSnow } from '../snow/roof-snow.ts';
import { wallShareOfPart, type OverWall } from '../two-span.ts';
import { shareClause, type SideGeometry } from './strip-sides.ts';

/** Snow of one slope on the wall: the uniform part by the share, the surcharge by the part next to the wall. */
export function snowFromSide(
  strip: Strip,
  side: SideGeometry,
  snow: SlopeSnow,
  overWall: OverWall,
  snowCase: SnowCase,
): { plf: number; steps: readonly Step[] } {
  const share = feetFromInches(side.shareIn);
  const uniformPlf = snow.uniformPsf * share;
  const id = `${strip.id}.S.${snowCase.replace(' ', '-')}.${side.side}`;
  const clause = shareClause(overWall);
  const title = `${strip.label}: snow from the ${side.side} slope, ${snowCase}`;
  if (snow.surcharge === undefined || side.spanIn === 0) {
    return {
      plf: uniformPlf,
      steps: [
        {
          id,
          title,
          clause,
          formula: 'w = p · b',
          values: { p: qty(snow.uniformPsf, 'psf'), b: qty(share, 'ft') },
          result: qty(uniformPlf, 'plf'),
        },
      ],
    };
  }
  const loadedIn = Math.min(snow.surcharge.lengthIn, side.spanIn);
  const partShare = feetFromInches(wallShareOfPart(overWall, side.spanIn, side.otherSpanIn, loadedIn));
  const plf = uniformPlf + snow.surcharge.psf * partShare;
  const geometry: Record<string, Quantity> = {
    a: qty(feetFromInches(loadedIn), 'ft'),
    l: qty(feetFromInches(side.spanIn), 'ft'),
  };
  if (overWall === 'continuous') geometry.m = qty(feetFromInches(side.otherSpanIn), 'ft');
  return {
    plf,
    steps: [
      {
        id: `${id}.surcharge-share`,
        title: `${strip.label}: share of the surcharge next to the wall`,
        clause,
        formula:
          overWall === 'continuous'
            ? 'c = a · (1 − a ÷ (2 · l)) + (l^2 − (l − a)^2)^2 ÷ (8 · l^2 · m)'
            : 'c = a · (1 − a ÷ (2 · l))',
        values: geometry,
        result: qty(partShare, 'ft'),
      },
      {
        id,
        title,
        clause,
        formula: 'w = p · b + pd · c',
        values: {
          p: qty(snow.uniformPsf, 'psf'),
          b: qty(share, 'ft'),
          pd: qty(snow.surcharge.psf, 'psf'),
          c: qty(partShare, 'ft'),
        },
        result: qty(plf, 'plf'),
      },
    ],
  };
}
