import { qty } from '../trace/quantity.ts';
import { type Check, makeCheck, type Step } from '../trace/step.ts';
import { adjustedShearPsi, type MemberFactors } from './adjusted-values.ts';
import { evaluateWoodBeam, type LimitState } from './beam.ts';
import type { WoodBeamInput } from './beam-input.ts';
import { checkBearing } from './bearing.ts';
import { bendingSteps } from './bending.ts';
import { nds } from './clauses.ts';
import type { ServiceConditions } from './conditions.ts';
import { totalSteps, transientSteps } from './deflection.ts';
import { adjustedShearStep, notchLimitSection, notchStep, shearSteps } from './shear.ts';

/**
 * Every check of a wood beam with its trace: bending (both faces where the top is stretched), slenderness,
 * shear, notched end, bearing on each support, deflection under live load, with creep, and against an
 * absolute limit. The governing combination is named; it governs by ratio, since CD differs.
 *
 * @throws Refusal as `evaluateWoodBeam`.
 */
export function checkWoodBeam(input: WoodBeamInput): Check[] {
  const { conditions, factors, states } = evaluateWoodBeam(input);
  return states.map((state) => checkOf(input, conditions, factors, state));
}

function checkOf(
  input: WoodBeamInput,
  conditions: ServiceConditions,
  factors: MemberFactors,
  state: LimitState,
): Check {
  switch (state.kind) {
    case 'bending':
      return bendingCheck(input, state);
    case 'slenderness':
      return makeCheck({
        id: state.id,
        title:
          state.face === 'bottom' ? 'Slenderness in bending' : 'Slenderness in bending, bottom compressed',
        clause: nds(input.edition, '3.3.3'),
        demand: qty(state.demand),
        capacity: qty(state.capacity),
        sentence: (passes) =>
          passes
            ? 'RB is within 50 (3.3.3.7).'
            : 'RB is more than 50 (3.3.3.7): hold the compressed edge at closer points or take a wider beam.',
      });
    case 'shear':
      return makeCheck({
        id: state.id,
        title: 'Shear',
        clause: nds(input.edition, '3.4.2'),
        demand: qty(state.demand, 'psi'),
        capacity: qty(state.capacity, 'psi'),
        governing: state.combination.name,
        steps: shearSteps(
          state.id,
          input.edition,
          input.member,
          factors,
          state.combination.loadDuration,
          state.combination.shearLb,
          state.capacity,
        ),
      });
    case 'notch depth':
      return makeCheck({
        id: state.id,
        title: 'Depth of the notch at the end',
        clause: nds(input.edition, notchLimitSection(input.member)),
        demand: qty(state.demand, 'in'),
        capacity: qty(state.capacity, 'in'),
      });
    case 'notch shear':
      return notchShearCheck(input, factors, state);
    case 'bearing':
      return checkBearing({
        id: state.id,
        title: `Bearing, ${state.bearing.label}`,
        material: input.member.material,
        edition: input.edition,
        conditions,
        loadLb: state.reactionLb,
        lengthIn: state.bearing.lengthIn,
        widthIn: state.widthIn,
        endDistanceIn: state.bearing.endDistanceIn,
        governing: state.combination.name,
      });
    case 'live deflection':
    case 'total deflection':
    case 'absolute deflection':
      return deflectionCheck(input, factors, state);
  }
}

function bendingCheck(input: WoodBeamInput, state: Extract<LimitState, { kind: 'bending' }>): Check {
  return makeCheck({
    id: state.id,
    title: state.bending.face === 'bottom' ? 'Bending' : 'Bending, top stretched',
    clause: nds(input.edition, '3.3.1'),
    demand: qty(state.demand, 'psi'),
    capacity: qty(state.capacity, 'psi'),
    governing: state.combination.name,
    steps: bendingSteps(state.id, input.edition, state.bending, state.resistance, state.momentLbIn),
  });
}

function notchShearCheck(
  input: WoodBeamInput,
  factors: MemberFactors,
  state: Extract<LimitState, { kind: 'notch shear' }>,
): Check {
  const { member, edition } = input;
  return makeCheck({
    id: state.id,
    title: 'Shear at the notched end',
    clause: nds(edition, '3.4.3.2'),
    demand: qty(state.demand, 'lb'),
    capacity: qty(state.capacity, 'lb'),
    governing: state.combination.name,
    steps: [
      adjustedShearStep(
        state.id,
        member,
        factors,
        state.combination.loadDuration,
        adjustedShearPsi(member, factors, state.combination.loadDuration),
      ),
      notchStep(state.id, edition, member, state.notch, state.adjustedPsi, state.capacity),
    ],
  });
}

const DEFLECTION_TITLES = {
  'live deflection': 'Deflection under live load',
  'total deflection': 'Deflection with creep',
  'absolute deflection': 'Deflection with creep, absolute limit',
} as const;

function deflectionCheck(
  input: WoodBeamInput,
  factors: MemberFactors,
  state: Extract<LimitState, { kind: 'live deflection' | 'total deflection' | 'absolute deflection' }>,
): Check {
  const { member, edition, limits } = input;
  const { deflection } = state;
  const steps: Step[] =
    state.kind === 'live deflection'
      ? transientSteps(state.id, edition, member, factors, deflection)
      : totalSteps(state.id, edition, member, factors, deflection, state.creep);
  if (state.kind !== 'absolute deflection') {
    const ratio = state.kind === 'live deflection' ? limits.liveRatio : limits.totalRatio;
    steps.push({
      id: `${state.id}.limit`,
      title: 'Deflection allowed',
      clause: { standard: 'IRC', edition: '', section: 'Table R301.7 or the project’s own limit' },
      formula: 'Δ_allowed = L ÷ n',
      values: { L: qty(deflection.spanIn, 'in'), n: qty(ratio) },
      result: qty(state.capacity, 'in'),
    });
  }
  return makeCheck({
    id: state.id,
    title: DEFLECTION_TITLES[state.kind],
    clause: nds(edition, state.kind === 'live deflection' ? '3.5.1' : '3.5.2'),
    demand: qty(state.demand, 'in'),
    capacity: qty(state.capacity, 'in'),
    governing: state.kind === 'live deflection' ? deflection.name : `D with creep + ${deflection.name}`,
    steps,
  });
}
