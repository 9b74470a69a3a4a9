import { sawnSize } from '../materials/lumber-sizes.ts';
import { sawnMaterial } from '../materials/sawn-lumber.ts';
import { qty, type Check, type Notice } from '../trace/index.ts';
import { checkBearing, checkWoodColumn, woodMember, type WoodColumnCombination } from '../wood/index.ts';
import type { BeamActions } from './beam-actions.ts';
import { calculateBeam, type BeamOutcome, type Outcome } from './beam.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, Support } from './design.ts';
import { judgeBelowPack } from './below-pack.ts';
import { judgeKings, kingsByCombination, loadOnKings } from './kings.ts';
import { judgePackSeat } from './pack-seat.ts';
import { refusingAt, supportField } from './paths.ts';
import { besideNotices, seatedJacks } from './seated-jacks.ts';
import { secondOpinions } from './second-opinion.ts';
import type { Survey } from './survey.ts';

export interface EndReaction {
  readonly name: string;
  readonly loadDuration: number;
  readonly forceLb: number;
}

/** The reaction at one end in every combination, downward ones as they are, uplift negative. */
export function endReactions(actions: BeamActions, end: 'left' | 'right'): EndReaction[] {
  const index = end === 'left' ? 0 : 1;
  return actions.envelope.byCombination.map(({ combination, reactions }) => ({
    name: combination.name,
    loadDuration: combination.durationFactor,
    forceLb: reactions[index]?.forceLb.max.value ?? 0,
  }));
}

/**
 * The pack under one end of the beam: jacks as a built-up column (or a post), the beam on top of them and the
 * plate beneath, kings with wind where the wall is exterior.
 *
 * @throws Refusal with the path of the entry that can't be
 */
export function calculateSupport(
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  support: Support,
  outcome: Pick<BeamOutcome, 'actions'> = calculateBeam(survey, criteria, beam),
): Outcome {
  return refusingAt(supportField, () => judgeSupport(survey, criteria, beam, support, outcome));
}

function judgeSupport(
  survey: Survey,
  criteria: Criteria,
  beam: Beam,
  support: Support,
  { actions }: Pick<BeamOutcome, 'actions'>,
): Outcome {
  const reactions = endReactions(actions, support.end);
  const worst = reactions.reduce((most, one) => (one.forceLb > most.forceLb ? one : most));
  const uplift = Math.max(0, ...reactions.map((one) => -one.forceLb));
  const edition = criteria.editions.nds;
  const size = sawnSize(support.size, 'size');
  const seated = seatedJacks(beam, support);
  const { count: plies, lengthIn: jackLengthIn } = seated;
  const pack = woodMember(
    { kind: 'sawn', species: support.species, grade: support.grade, size: support.size, plies },
    edition,
    'pack',
  );
  const combinations: WoodColumnCombination[] = reactions.map(({ name, loadDuration, forceLb }) => ({
    name,
    loadDuration,
    axialLb: Math.max(0, forceLb),
  }));
  const eccentricity = support.eccentricityIn ?? 0;
  const seat = judgePackSeat({ beam, support, pack, jackLengthIn, reactions, edition });
  const checks: Check[] = [
    ...checkWoodColumn({
      id: 'pack',
      edition,
      member: pack,
      fastening: plies === 1 ? 'solid' : support.fastening,
      heightIn: support.heightIn,
      weakUnbracedIn: support.bracedWeakAxisIn ?? support.heightIn,
      combinations,
      ...(eccentricity === 0 ? {} : { eccentricity: { strongIn: 0, weakIn: eccentricity } }),
    }),
    ...seat.checks,
    checkBearing({
      id: 'plate',
      title: 'Plate under the pack, across the grain',
      material: sawnMaterial(support.plateSpecies, support.plateGrade, sawnSize('2x6'), edition, 'plate'),
      edition,
      loadLb: worst.forceLb > 0 ? worst.forceLb : 0,
      lengthIn: jackLengthIn,
      widthIn: size.widthIn,
      // Plates are cut at the opening: the pack stands at the end of what is left of it.
      endDistanceIn: 0,
      governing: worst.name,
    }),
  ];
  const onKings = loadOnKings(survey, support, actions);
  const kings = judgeKings(survey, criteria, support, actions);
  const below = judgeBelowPack(survey, criteria, support, jackLengthIn, combinations);
  return {
    checks: [...checks, ...kings.checks, ...below.checks],
    steps: [],
    notices: [
      ...supportNotices(support, uplift),
      ...besideNotices(support, seated),
      ...seat.notices,
      ...kings.notices,
      ...secondOpinions(survey, criteria, beam, support),
      ...below.notices,
    ],
    outputs: {
      load: qty(Math.max(0, worst.forceLb), 'lb'),
      uplift: qty(uplift, 'lb'),
      'length along the wall': qty(jackLengthIn, 'in'),
      // What is nailed together, counted by the beam or not.
      ...(support.kind === 'post' ? {} : { jacks: qty(support.jacks, 'each') }),
      width: qty(size.widthIn, 'in'),
      kings: qty(support.kind === 'post' ? 0 : support.kings, 'each'),
      'on the kings': qty(Math.max(0, ...kingsByCombination(actions, onKings)), 'lb'),
    },
  };
}

function supportNotices(support: Support, upliftLb: number): Notice[] {
  const notices: Notice[] = [];
  if (support.fastening === 'not qualifying' && support.kind === 'built-up' && support.jacks > 1) {
    notices.push({
      id: 'pack.plies-alone',
      severity: 'caution',
      text: 'The plies are not fastened as NDS 15.3.3 asks: each is judged standing alone with its share of the load.',
    });
  }
  if (upliftLb > 0) {
    notices.push({
      id: 'pack.uplift',
      severity: 'caution',
      text: `Wind lifts this end by ${Math.round(upliftLb)} lb: a strap or cap must hold the beam down, and the pack to what is below.`,
    });
  }
  return notices;
}
