import { qty, type Quantity } from '../trace/quantity.ts';
import type { Check, Notice, Step } from '../trace/step.ts';
import type { BeamActions } from './beam-actions.ts';
import { actWith } from './beam-member.ts';
import type { Criteria } from './criteria.ts';
import type { Beam } from './design.ts';
import { joistEnds } from './joist-ends.ts';
import type { Survey } from './survey.ts';

/** What a calculation gives: checks with traces, steps that belong to none of them, and named figures. */
export interface Outcome {
  readonly checks: readonly Check[];
  readonly steps: readonly Step[];
  readonly notices: readonly Notice[];
  readonly outputs: Readonly<Record<string, Quantity | string>>;
}

export interface BeamOutcome extends Outcome {
  readonly actions: BeamActions;
  /** E′·I without creep, lb-in². */
  readonly rigidityLbIn2: number;
}

/**
 * The beam of an opening, from what bears on the wall to every check of the member.
 *
 * @throws Refusal with the path of the entry of survey or beam that can't be
 */
export function calculateBeam(survey: Survey, criteria: Criteria, beam: Beam): BeamOutcome {
  const { actions, checks, notices, weightPlf, rigidityLbIn2 } = actWith(survey, criteria, beam);
  const ends = joistEnds(survey, criteria, beam, actions);
  return {
    actions,
    rigidityLbIn2,
    checks,
    steps: [...loadSteps(actions), ...ends.steps],
    notices: [...actions.notices, ...notices, ...ends.notices],
    outputs: {
      span: qty(actions.geometry.spanIn, 'in'),
      length: qty(actions.geometry.lengthIn, 'in'),
      weight: qty((weightPlf * actions.geometry.lengthIn) / 12, 'lb'),
      ...demandOutputs(actions),
      ...reactionOutputs(actions),
      ...ends.outputs,
    },
  };
}

/** Each load's own steps, once: the trace from psf to the figure on the beam. */
function loadSteps(actions: BeamActions): Step[] {
  const steps = new Map<string, Step>();
  for (const load of actions.loads) for (const step of load.steps) steps.set(step.id, step);
  for (const brace of actions.takeOff.braces) for (const step of brace.steps) steps.set(step.id, step);
  return [...steps.values()];
}

function demandOutputs({ envelope }: BeamActions): Record<string, Quantity> {
  const [left, right] = envelope.reactions;
  return {
    moment: qty(envelope.momentLbIn.max.value / 12, 'lb-ft'),
    shear: qty(Math.max(envelope.shearLb.max.value, -envelope.shearLb.min.value), 'lb'),
    'left reaction': qty(left?.forceLb.max.value ?? 0, 'lb'),
    'right reaction': qty(right?.forceLb.max.value ?? 0, 'lb'),
    'left uplift': qty(Math.max(0, -(left?.forceLb.min.value ?? 0)), 'lb'),
    'right uplift': qty(Math.max(0, -(right?.forceLb.min.value ?? 0)), 'lb'),
  };
}

/** 'left reaction, D' …: what supports and footings combine for themselves. */
function reactionOutputs({ reactions }: BeamActions): Record<string, Quantity> {
  const outputs: Record<string, Quantity> = {};
  for (const end of ['left', 'right'] as const) {
    for (const [kind, force] of Object.entries(reactions[end])) {
      if (force !== 0) outputs[`${end} reaction, ${kind}`] = qty(force, 'lb');
    }
  }
  return outputs;
}
