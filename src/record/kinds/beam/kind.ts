import { calculateBeam } from '../../../engineering/proposal/beam.ts';
import { beamSchema, type Beam, type Member } from '../../../engineering/proposal/design.ts';
import type { Criteria } from '../../../engineering/proposal/criteria.ts';
import { takeOffLoads } from '../../../engineering/loads/take-off/take-off.ts';
import type { Survey } from '../../../engineering/proposal/survey.ts';
import { qty } from '../../../engineering/trace/index.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { OutputValue } from '../../calculation.ts';
import type { ItemKindDefinition } from '../definition.ts';
import { criteriaOf, surveyOf } from '../grounds.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

/** The member as it is ordered: '3 plies 1 3/4" x 11 7/8" LVL 2.0E'. */
export function memberWords(member: Member): string {
  const plies = (count: number) => (count === 1 ? '1 ply' : `${count} plies`);
  switch (member.kind) {
    case 'sawn':
      return `${plies(member.plies)} ${member.size} ${member.species} ${member.grade}`;
    case 'composite':
      return `${plies(member.plies)} ${inches(member.thicknessIn)} x ${inches(member.depthIn)} ${member.class}${member.declared === undefined ? '' : ` by ${member.declared.report}`}`;
    case 'glulam':
      return `${inches(member.widthIn)} x ${inches(member.depthIn)} glulam ${member.combination}`;
    case 'steel':
      return `${member.shape}, Fy ${member.fyKsi} ksi`;
    case 'flitch':
      return `${plies(member.woodPlies)} ${member.size} ${member.species} ${member.grade} with ${member.plates} steel plate ${inches(member.plateThicknessIn)} x ${inches(member.plateDepthIn)}`;
  }
}

/** What of the survey bears on the beam: every load by name, and where the opening lies. */
function surveyFigures(survey: Survey, criteria: Criteria, beam: Beam): Record<string, OutputValue> {
  const { loads } = takeOffLoads(survey, criteria, {
    joistsAtBeam: beam.placement === 'flush' ? 'cut' : 'as surveyed',
  });
  const figures: Record<string, OutputValue> = {
    'opening from': qty(survey.openingFromIn, 'in'),
    'opening to': qty(survey.openingToIn, 'in'),
  };
  for (const load of loads) {
    const name = `${load.label}, ${load.kind}${load.snowCase === undefined ? '' : ` ${load.snowCase}`}`;
    if (load.form === 'line')
      figures[`${name}, ${load.fromIn} to ${load.toIn} in`] = qty(load.loadPlf, 'plf');
    else figures[`${name}, at ${load.positionIn} in`] = qty(load.loadLb, 'lb');
  }
  return figures;
}

export const beamKind: ItemKindDefinition<Beam> = {
  kind: 'beam',
  title: 'Beam',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey'],
  schema: beamSchema,
  labels: {
    'member.plies': 'plies',
    'member.depthIn': 'depth',
    'member.size': 'size',
    bearingLeftIn: 'bearing, left',
    bearingRightIn: 'bearing, right',
  },
  describe: (beam) => [
    `${beam.placement === 'flush' ? 'Flush: joists hang from it' : 'Dropped: joists stand on it'}, ${memberWords(beam.member)}`,
    `Bearing ${inches(beam.bearingLeftIn)} left, ${inches(beam.bearingRightIn)} right`,
  ],
  restsOn(beam, context) {
    const criteria = criteriaOf(context);
    const survey = surveyOf(context);
    const { editions, liveDeflectionRatio, totalDeflectionRatio, absoluteDeflectionIn } = criteria.content;
    return [
      {
        on: criteria.item,
        label: 'editions and limits',
        values: {
          'ASCE 7': editions.asce7,
          NDS: editions.nds,
          IRC: editions.irc,
          AISC: editions.aisc360,
          'live limit': `L/${liveDeflectionRatio}`,
          'total limit': `L/${totalDeflectionRatio}`,
          ...(absoluteDeflectionIn === undefined
            ? {}
            : { 'absolute limit': qty(absoluteDeflectionIn, 'in') }),
        },
      },
      {
        on: survey.item,
        label: 'loads on the wall',
        values: surveyFigures(survey.content, criteria.content, beam),
      },
    ];
  },
  calculate(beam, context) {
    const { checks, steps, notices, outputs } = calculateBeam(
      surveyOf(context).content,
      criteriaOf(context).content,
      beam,
    );
    return { checks, steps, notices, outputs };
  },
};
