import { takeOffLoads } from '../../../engineering/loads/index.ts';
import type { Criteria } from '../../../engineering/proposal/criteria.ts';
import {
  shoringSchema,
  type Beam,
  type Footing,
  type Shoring,
} from '../../../engineering/proposal/design.ts';
import { calculateShoring } from '../../../engineering/proposal/shoring.ts';
import type { Survey } from '../../../engineering/proposal/survey.ts';
import { qty, type Notice } from '../../../engineering/trace/index.ts';
import { formatFeetInches, formatInches } from '../../../engineering/units/index.ts';
import type { OutputValue } from '../../calculation.ts';
import { allOf, onlyOf, type ItemContext, type ItemKindDefinition } from '../definition.ts';
import { criteriaOf, surveyOf } from '../grounds.ts';

/** What of the order of work a page must say beside the plan, by the id of the caution. */
const saidBesideThePlan: ReadonlySet<string> = new Set(['collapse', 'utilities', 'jacking', 'stop']);

/** Before a beam is proposed the plan takes the harder case: joists that are cut. */
function placementIn(context: ItemContext): Beam['placement'] {
  return (onlyOf(context, 'beam')?.content as Beam | undefined)?.placement ?? 'flush';
}

function footingsIn(context: ItemContext): Footing[] {
  return allOf(context, 'footing').map((item) => item.content as Footing);
}

function surveyFigures(survey: Survey, criteria: Criteria): Record<string, OutputValue> {
  const figures: Record<string, OutputValue> = {
    'height of the wall': qty(survey.wallHeightIn, 'in'),
    'storeys above': survey.storeysAbove,
    below: survey.below,
    'opening from': qty(survey.openingFromIn, 'in'),
    'opening to': qty(survey.openingToIn, 'in'),
  };
  for (const load of takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' }).loads) {
    const name = `${load.label}, ${load.kind}${load.snowCase === undefined ? '' : ` ${load.snowCase}`}`;
    if (load.form === 'line')
      figures[`${name}, ${load.fromIn} to ${load.toIn} in`] = qty(load.loadPlf, 'plf');
    else figures[`${name}, at ${load.positionIn} in`] = qty(load.loadLb, 'lb');
  }
  return figures;
}

export const shoringKind: ItemKindDefinition<Shoring> = {
  kind: 'shoring',
  title: 'Shoring plan',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey', 'beam', 'footing'],
  schema: shoringSchema,
  labels: {
    offsetIn: 'distance from the wall',
    studSize: 'studs',
    studSpacingIn: 'spacing of the studs',
    midHeightBracingIn: 'studs braced every',
    topPlates: 'top plates',
    soleOn: 'sole stands on',
    storeysShored: 'storeys shored',
    bracesRelanded: 'roof braces re-landed',
  },
  describe: (shoring) => [
    `Temporary ${shoring.sides === 'both' ? 'walls on both sides' : `wall on the ${shoring.sides} side`}, ${formatFeetInches(shoring.offsetIn, { to: 16 })} off`,
    `${shoring.studSize} ${shoring.species} ${shoring.grade} at ${formatInches(shoring.studSpacingIn, { to: 16 })}, ${shoring.topPlates} top plates${shoring.midHeightBracingIn === 0 ? ', studs not braced' : `, studs braced every ${formatFeetInches(shoring.midHeightBracingIn, { to: 16 })}`}`,
    `Sole on ${shoring.soleOn === 'slab' ? 'the slab' : `joists that run ${shoring.soleOn === 'joists across' ? 'across' : 'along'} it`}; ${shoring.storeysShored} ${shoring.storeysShored === 1 ? 'storey' : 'storeys'} shored${shoring.bracesRelanded ? '; roof braces set on strongbacks' : ''}`,
  ],
  restsOn(_shoring, context) {
    const criteria = criteriaOf(context);
    const survey = surveyOf(context);
    const beam = onlyOf(context, 'beam');
    const { editions, soilBearingPsf } = criteria.content;
    return [
      {
        on: criteria.item,
        label: 'editions and soil',
        values: {
          'ASCE 7': editions.asce7,
          NDS: editions.nds,
          soil: qty(soilBearingPsf, 'psf'),
        },
      },
      {
        on: survey.item,
        label: 'what has to be held up',
        values: surveyFigures(survey.content, criteria.content),
      },
      ...(beam === undefined
        ? []
        : [{ on: beam, label: 'joists at the beam', values: { placement: placementIn(context) } }]),
      ...allOf(context, 'footing').map((footing) => ({
        on: footing,
        label: 'order of work',
        values: { 'new pad': (footing.content as Footing).pad === undefined ? 'none' : 'poured' },
      })),
    ];
  },
  calculate(shoring, context) {
    const { checks, steps, notices, outputs, cautions, sequence } = calculateShoring(
      surveyOf(context).content,
      criteriaOf(context).content,
      { placement: placementIn(context) },
      footingsIn(context),
      shoring,
    );
    const said = cautions
      .filter((caution) => saidBesideThePlan.has(caution.id))
      .map(({ id, title, text, clause }): Notice => ({
        id: `shoring.caution.${id}`,
        severity: 'caution',
        text: `${title}: ${text}`,
        clause,
      }));
    const held = sequence.filter((step) => step.holdPoint !== undefined);
    return {
      checks,
      steps,
      notices: [...said, ...notices],
      outputs: {
        ...outputs,
        'hold points': held.map((step) => step.title.toLowerCase()).join('; '),
      },
    };
  },
};
