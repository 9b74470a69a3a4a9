import type { Strip } from '../../proposal/survey.ts';
import type { Clause } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import type { Step } from '../../trace/step.ts';
import { feetFromInches } from '../../units/conversions.ts';
import { wallShare, type OverWall } from '../two-span.ts';

const HALF_TO_EACH_END: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'simple span, half to each end',
};
export const THREE_MOMENTS: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'three-moment equation, two spans',
};

/** The law by which a span's load is shared out. */
export function shareClause(overWall: OverWall): Clause {
  return overWall === 'continuous' ? THREE_MOMENTS : HALF_TO_EACH_END;
}

/** One span beside the wall and the share of its load that the wall carries. */
export interface SideGeometry {
  readonly side: 'front' | 'rear';
  readonly spanIn: number;
  readonly otherSpanIn: number;
  readonly shareIn: number;
  readonly step: Step;
}

export function sideGeometry(strip: Strip, side: 'front' | 'rear', overWall: OverWall): SideGeometry {
  const spanIn = side === 'front' ? strip.frontSpanIn : strip.rearSpanIn;
  const otherSpanIn = side === 'front' ? strip.rearSpanIn : strip.frontSpanIn;
  const shareIn = wallShare(overWall, spanIn, otherSpanIn);
  const continuous = overWall === 'continuous';
  return {
    side,
    spanIn,
    otherSpanIn,
    shareIn,
    step: {
      id: `${strip.id}.${side}-share`,
      title: `${strip.label}: share of the ${side} span that the wall carries`,
      clause: shareClause(overWall),
      formula: continuous ? 'b = l · (1 ÷ 2 + l ÷ (8 · m))' : 'b = l ÷ 2',
      values: continuous
        ? { l: qty(feetFromInches(spanIn), 'ft'), m: qty(feetFromInches(otherSpanIn), 'ft') }
        : { l: qty(feetFromInches(spanIn), 'ft') },
      result: qty(feetFromInches(shareIn), 'ft'),
    },
  };
}
