import { checkFooting } from '../foundation/index.ts';
import { kindsPresent, strengthCombinations } from '../loads/combinations.ts';
import { sawnSize } from '../materials/lumber-sizes.ts';
import { qty, type Notice, type Step } from '../trace/index.ts';
import { formatFeetInches } from '../units/index.ts';
import type { BeamActions } from './beam-actions.ts';
import { calculateBeam, type BeamOutcome, type Outcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Footing, Support } from './design.ts';
import { besideStep, factoredOnKings, kingsByCombination, loadOnKings, type ByKind } from './kings.ts';
import { seatedJacks } from './seated-jacks.ts';
import { endReactions } from './support.ts';
import type { Survey } from './survey.ts';

interface PackLoad {
  readonly name: string;
  readonly forceLb: number;
}

interface ServiceLoad extends PackLoad {
  readonly reactionLb: number;
  readonly kingsLb: number;
}

/** The heaviest service load of the pack, kings and beam in the same combination (ASCE 7 2.4.1), with its parts. */
function serviceLoad(actions: BeamActions, end: 'left' | 'right', kings: ByKind): ServiceLoad {
  const onKings = kingsByCombination(actions, kings);
  return endReactions(actions, end)
    .map(({ name, forceLb: reactionLb }, index) => {
      const kingsLb = onKings[index] ?? 0;
      return { name, forceLb: reactionLb + kingsLb, reactionLb, kingsLb };
    })
    .reduce((most, one) => (one.forceLb > most.forceLb ? one : most));
}

/** The heaviest strength-level load of the pack (ASCE 7 2.3.1; ACI 318-19 5.3.1), lb, with its combination. */
function factoredLoad(
  actions: BeamActions,
  criteria: Criteria,
  end: 'left' | 'right',
  kings: ByKind,
): PackLoad {
  const reactions = actions.reactions[end];
  const snow = Math.max(
    0,
    ...Object.entries(reactions).flatMap(([kind, force]) => (kind.startsWith('S ') ? [force] : [])),
  );
  return strengthCombinations(criteria.editions, kindsPresent(actions.loads))
    .map(({ name, factors }) => ({
      name,
      forceLb:
        factors.D * (reactions.D ?? 0) +
        factors.L * (reactions.L ?? 0) +
        factors.Lr * (reactions.Lr ?? 0) +
        factors.S * snow +
        factors.W * (reactions.W ?? 0) +
        factoredOnKings(kings, factors),
    }))
    .reduce((most, one) => (one.forceLb > most.forceLb ? one : most));
}

/** A pad centred under its jacks may reach past the end of the wall, where another wall and its footing stand. */
function padPastWall(survey: Survey, seatIn: number, { end, pad }: Footing): Notice[] {
  if (pad === undefined) return [];
  const faceToEndIn = end === 'left' ? survey.openingFromIn : survey.wallLengthIn - survey.openingToIn;
  const pastIn = seatIn / 2 + pad.lengthIn / 2 - faceToEndIn;
  if (pastIn <= 0) return [];
  return [
    {
      id: 'footing.past-wall',
      severity: 'caution',
      text: `Centred under its jacks, the pad reaches ${formatFeetInches(pastIn, { to: 16 })} past the ${end} end of the wall. Find out what stands there and on what footing before digging; moved off the jacks, the pad no longer presses evenly.`,
    },
  ];
}

/**
 * What is under one pack, from the evidence recorded, and the pad that is proposed or would be needed.
 *
 * @throws Refusal with the path of the entry that can't be
 */
export function calculateFooting(
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  support: Support,
  footing: Footing,
  { actions }: Pick<BeamOutcome, 'actions'> = calculateBeam(survey, criteria, beam),
): Outcome {
  const kings = loadOnKings(survey, support, actions);
  const service = serviceLoad(actions, footing.end, kings);
  const factored = factoredLoad(actions, criteria, footing.end, kings);
  const size = sawnSize(support.size, 'size');
  const { lengthIn: seatIn } = seatedJacks(beam, support);
  const serviceLb = Math.max(0, service.forceLb);
  const factoredLb = Math.max(0, factored.forceLb);
  const { pad, ...evidence } = footing;
  const judged = checkFooting({
    ...evidence,
    ...(pad === undefined
      ? {}
      : { pad: { alongIn: pad.lengthIn, acrossIn: pad.widthIn, thicknessIn: pad.thicknessIn } }),
    // The jacks bring the reaction; a king beside them takes none of it, and counting its foot would shorten the
    // projection that bends.
    footprint: {
      alongIn: seatIn,
      acrossIn: size.widthIn,
    },
    serviceLb,
    factoredLb,
    soilBearingPsf: criteria.soilBearingPsf,
    editions: criteria.editions,
    governing: { service: service.name, factored: factored.name },
  });
  const { padNeeded, grossPressurePsf } = judged;
  const brought = service.kingsLb === 0 ? [] : [besideStep(kings), packStep(footing.end, service)];
  return {
    checks: judged.checks.map((check) =>
      check.id.endsWith('.soil') ? { ...check, steps: [...brought, ...check.steps] } : check,
    ),
    steps: [],
    notices: [...judged.notices, ...padPastWall(survey, seatIn, footing)],
    outputs: {
      'service load': qty(serviceLb, 'lb'),
      'factored load': qty(factoredLb, 'lb'),
      ...(grossPressurePsf === undefined ? {} : { 'pressure on the soil': qty(grossPressurePsf, 'psf') }),
      ...(padNeeded === undefined
        ? {}
        : {
            'pad that would do': `${padNeeded.alongIn} x ${padNeeded.acrossIn} x ${padNeeded.thicknessIn} in`,
          }),
    },
  };
}

function packStep(end: 'left' | 'right', service: ServiceLoad): Step {
  return {
    id: `footing.${end}.load`,
    title: 'Load of the pack: beam on the jacks, wall on the kings',
    clause: { standard: 'Mechanics', edition: '', section: 'sum of what stands on the concrete' },
    formula: 'P = R + K',
    values: { R: qty(service.reactionLb, 'lb'), K: qty(service.kingsLb, 'lb') },
    result: qty(service.forceLb, 'lb'),
    note: `Both in ${service.name}.`,
  };
}
