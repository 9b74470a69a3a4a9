import { checkSteelBeam, proposeBearingPlate, steelRigidityLbIn2, wideFlange } from '../steel/index.ts';
import { actOn, type PreparedBeam } from './beam-actions.ts';
import { deadSag, deflectionLimits, joistSpacing, type ActedBeam } from './beam-member.ts';
import { landingsOnTop, LEAST_FOOT_IN } from './landings-on-top.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, SteelMember } from './design.ts';
import type { Survey } from './survey.ts';

/**
 * The wood under a steel beam belongs to the support, which is judged as an item of its own. Here the lowest
 * Fc⊥ of the species in this program stands in for it: HF, 405 psi (NDS Supplement Table 4A).
 */
const WEAKEST_WOOD_PSI = 405;

/** A share so small of the largest moment is rounding, not uplift. */
const NO_UPLIFT = 1e-9;

/** A wide-flange beam, ASD by AISC 360. */
export function actWithSteel(
  survey: Survey,
  criteria: Criteria,
  beam: Beam & { readonly member: SteelMember },
  prepared: PreparedBeam,
): ActedBeam {
  const { shape: name, fyKsi } = beam.member;
  const shape = wideFlange(name);
  const actions = actOn(prepared, shape.weightPlf, shape.depthIn);
  const { envelope, geometry, passing } = actions;
  const { momentLbIn, shearLb } = envelope;
  const uplift = Math.max(0, -momentLbIn.min.value);
  const shear = shearLb.max.value >= -shearLb.min.value ? shearLb.max : shearLb.min;
  const dead = deadSag(actions);
  const limits = deflectionLimits(criteria);
  const live = Math.max(0, ...passing.map(({ eiLbIn3 }) => Math.abs(eiLbIn3)));
  const { checks, notices, weightPlf } = checkSteelBeam({
    shape: name,
    fyKsi,
    editions: criteria.editions,
    momentLbIn: Math.max(0, momentLbIn.max.value),
    shearLb: Math.abs(shear.value),
    unbracedIn: beam.unbracedIn ?? joistSpacing(survey, geometry.spanIn),
    // Nothing is counted on to hold the bottom flange between the supports.
    ...(uplift > NO_UPLIFT * momentLbIn.max.value
      ? {
          uplift: {
            momentLbIn: uplift,
            unbracedIn: geometry.spanIn,
            governing: momentLbIn.min.result.combination.name,
          },
        }
      : {}),
    landings: landingsOnTop(actions).map((landing) => ({ ...landing, bearingIn: LEAST_FOOT_IN })),
    bearings: (['left', 'right'] as const).map((end, index) => {
      const bearing = {
        end,
        reactionLb: Math.max(0, envelope.reactions[index]?.forceLb.max.value ?? 0),
        lengthIn: end === 'left' ? geometry.bearingLeftIn : geometry.bearingRightIn,
        supportWidthIn: survey.wallThicknessIn,
        woodAllowablePsi: WEAKEST_WOOD_PSI,
      };
      const plate = proposeBearingPlate(shape, bearing);
      return plate === undefined ? bearing : { ...bearing, plate };
    }),
    deflection: {
      spanIn: geometry.spanIn,
      liveLbIn3: live,
      totalLbIn3: live + Math.max(0, dead),
      liveRatio: limits.liveRatio,
      totalRatio: limits.totalRatio,
      ...(limits.absoluteIn === undefined ? {} : { absoluteIn: limits.absoluteIn }),
    },
    governing: {
      moment: momentLbIn.max.result.combination.name,
      shear: shear.result.combination.name,
    },
  });
  return { actions, checks, notices, weightPlf, rigidityLbIn2: steelRigidityLbIn2(name) };
}
