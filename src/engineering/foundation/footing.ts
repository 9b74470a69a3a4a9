import {
  makeCheck,
  notNegative,
  qty,
  refuseUnless,
  type Check,
  type Editions,
  type Notice,
  type Step,
} from '../trace/index.ts';
import { PRACTICE } from './clauses.ts';
import { effectivePad } from './found-concrete.ts';
import { checkPad, soilPressurePsf, type Footprint, type Pad, type PadInput } from './pad.ts';
import { requiredPad } from './required-pad.ts';

export interface FootingInput {
  readonly end: 'left' | 'right';
  readonly found: 'nothing known' | 'plans' | 'probed' | 'cored';
  readonly foundWidthIn: number;
  readonly foundThicknessIn: number;
  readonly postTensioned: 'no' | 'yes' | 'unknown';
  readonly concretePsi: number;
  /** A new pad that takes the place of what is there. */
  readonly pad?: Pad;
  readonly footprint: Footprint;
  readonly serviceLb: number;
  readonly factoredLb: number;
  readonly soilBearingPsf: number;
  /** Room for a pad across the wall, where something limits it. */
  readonly acrossLimitIn?: number;
  readonly editions: Editions;
  readonly governing?: PadInput['governing'];
}

export interface FootingResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  /** What was judged; absent where nothing is known. */
  readonly judged?: { readonly what: 'found' | 'pad'; readonly pad: Pad };
  readonly netPressurePsf?: number;
  readonly grossPressurePsf?: number;
  /** The plain pad that would do; absent where none does, and where the slab may not be cut. */
  readonly padNeeded?: Pad;
}

/**
 * What is under one pack, judged from evidence. A new pad is judged where one is proposed, else the concrete that
 * was found, counted no wider than it spreads. Nothing known fails. A post-tensioned slab, or one of which nobody
 * knows, gets no advice to cut: its pad fails until that is cleared.
 * Refuses evidence without sizes and what `checkPad` refuses.
 */
export function checkFooting(input: FootingInput): FootingResult {
  const { end, footprint } = input;
  const prefix = `footing.${end}`;
  const load = {
    footprint,
    serviceLb: notNegative(input.serviceLb, `${prefix}.serviceLb`),
    factoredLb: notNegative(input.factoredLb, `${prefix}.factoredLb`),
    soilBearingPsf: input.soilBearingPsf,
    concretePsi: input.concretePsi,
    editions: input.editions,
    ...(input.governing === undefined ? {} : { governing: input.governing }),
  };
  const mayCut = input.postTensioned === 'no';
  const needed = mayCut
    ? requiredPad({
        ...load,
        ...(input.acrossLimitIn === undefined ? {} : { acrossLimitIn: input.acrossLimitIn }),
      })
    : undefined;
  const notices = footingNotices(input, needed);
  const wayOut = needed === undefined ? {} : { padNeeded: needed };

  if (input.pad === undefined && input.found === 'nothing known') {
    return { checks: [unknownCheck(prefix, end)], notices, ...wayOut };
  }
  const judged =
    input.pad === undefined
      ? { what: 'found' as const, ...foundPad(input) }
      : { what: 'pad' as const, pad: input.pad, steps: [] };
  const checks = checkPad(prefix, { ...load, pad: judged.pad });
  const { netPsf, grossPsf } = soilPressurePsf(load.serviceLb, judged.pad);
  return {
    checks: [
      ...(input.pad === undefined || mayCut ? [] : [tendonCheck(prefix, input.postTensioned)]),
      ...withSteps(checks, `${prefix}.soil`, judged.steps),
    ],
    notices,
    judged: { what: judged.what, pad: judged.pad },
    netPressurePsf: netPsf,
    grossPressurePsf: grossPsf,
    ...wayOut,
  };
}

function foundPad(input: FootingInput): { readonly pad: Pad; readonly steps: readonly Step[] } {
  for (const key of ['foundWidthIn', 'foundThicknessIn'] as const) {
    refuseUnless(
      input[key] > 0,
      `footing.${input.end}.${key}`,
      'Say how wide and how thick the concrete is that was found, or that nothing is known.',
    );
  }
  return effectivePad(
    { widthIn: input.foundWidthIn, thicknessIn: input.foundThicknessIn },
    input.footprint,
    input.editions,
  );
}

function withSteps(checks: readonly Check[], id: string, steps: readonly Step[]): Check[] {
  return checks.map((check) => (check.id === id ? { ...check, steps: [...steps, ...check.steps] } : check));
}

function unknownCheck(prefix: string, end: string): Check {
  return makeCheck({
    id: `${prefix}.evidence`,
    title: `What is under the ${end} pack`,
    clause: PRACTICE,
    demand: qty(1, 'each'),
    capacity: qty(0, 'each'),
    sentence: () => `Nothing is known of what is under the ${end} pack: open up and look.`,
  });
}

function tendonCheck(prefix: string, postTensioned: 'yes' | 'unknown' | 'no'): Check {
  return makeCheck({
    id: `${prefix}.tendons`,
    title: 'Cutting the slab for a pad',
    clause: PRACTICE,
    demand: qty(1, 'each'),
    capacity: qty(0, 'each'),
    sentence: () =>
      postTensioned === 'yes'
        ? 'The slab is post-tensioned: this program gives no advice to cut, core or drill it. A cut tendon kills; the engineer and a post-tensioning specialist decide.'
        : 'Nobody knows yet whether the slab is post-tensioned: find out before any cut, core or drill hole.',
  });
}

function footingNotices(input: FootingInput, needed: Pad | undefined): Notice[] {
  const id = (name: string) => `footing.${input.end}.${name}`;
  const notices: Notice[] = [];
  if (input.postTensioned !== 'no' && input.pad === undefined) {
    notices.push({
      id: id('tendons'),
      severity: 'caution',
      text:
        input.postTensioned === 'yes'
          ? 'The slab is post-tensioned: no cutting, coring or drilling, not for anchors either, until a specialist has located the tendons.'
          : 'Find out whether the slab is post-tensioned before it is cut, cored or drilled.',
      clause: PRACTICE,
    });
  }
  if (input.found === 'plans' && input.pad === undefined) {
    notices.push({
      id: id('plans-only'),
      severity: 'caution',
      text: 'This footing is known from plans alone: probe or core it at the pack before the load comes on.',
      clause: PRACTICE,
    });
  }
  if (input.found === 'probed' && input.pad === undefined) {
    notices.push({
      id: id('probed'),
      severity: 'note',
      text: 'Thickness by probing: several points around the pack, the thinnest counts.',
      clause: PRACTICE,
    });
  }
  if (needed === undefined && input.postTensioned === 'no' && input.pad === undefined) {
    notices.push({
      id: id('no-plain-pad'),
      severity: 'caution',
      text: 'No plain concrete pad carries this pack: a steel base plate, a reinforced footing or a soil report is for the engineer to decide.',
    });
  }
  if (needed !== undefined && input.pad === undefined) {
    notices.push({
      id: id('pad-needed'),
      severity: 'note',
      text: `A plain concrete pad ${needed.alongIn} in along by ${needed.acrossIn} in across the wall, ${needed.thicknessIn} in thick, would carry this pack.`,
    });
  }
  return notices;
}
