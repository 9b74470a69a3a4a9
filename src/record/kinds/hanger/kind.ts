import { hangerSchema, type Hanger } from '../../../engineering/proposal/design.ts';
import { calculateHanger, hangerDemand } from '../../../engineering/proposal/hanger.ts';
import { memberDepthIn } from '../../../engineering/proposal/member-depth.ts';
import { qty } from '../../../engineering/trace/index.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { ItemKindDefinition } from '../definition.ts';
import { beamOf, criteriaOf, outputsFrom, surveyOf } from '../grounds.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

/** The nails of one hanger: '10 nails .148 x 3"'; by diameter and length, since penny names mislead. */
export function hangerNailWords({ nailCount, nailDiameterIn, nailLengthIn }: Hanger): string {
  const diameter = nailDiameterIn.toFixed(3).slice(1);
  return `${nailCount} nails ${diameter} x ${inches(nailLengthIn)}`;
}

export const hangerKind: ItemKindDefinition<Hanger> = {
  kind: 'hanger',
  title: 'Hanger line',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey', 'beam'],
  schema: hangerSchema,
  labels: {
    joistSize: 'joist',
    spacingIn: 'spacing of the joists',
    nailCount: 'nails a hanger',
    nailDiameterIn: 'nail diameter',
    nailLengthIn: 'nail length',
    'listing.report': 'listing',
    'listing.downLb': 'listed load down, lb',
    'listing.upLb': 'listed uplift, lb',
    'listing.nailsRequired': 'nails the listing asks for',
    'listing.shortNailsAllowed': 'short nails allowed',
  },
  describe: (hanger) => [
    `${hanger.joistSize} joists at ${inches(hanger.spacingIn)} on the ${hanger.side} face`,
    `Each hanger: ${hangerNailWords(hanger)}, every hole filled`,
    hanger.listing === undefined
      ? 'No listing entered yet'
      : `By ${hanger.listing.report}: ${hanger.listing.downLb} lb down, ${hanger.listing.upLb} lb up, ${hanger.listing.nailsRequired} nails, short nails ${hanger.listing.shortNailsAllowed ? 'allowed' : 'not allowed'}`,
    ...(hanger.note === undefined ? [] : [hanger.note]),
  ],
  restsOn(hanger, context) {
    const criteria = criteriaOf(context);
    const survey = surveyOf(context);
    const beam = beamOf(context);
    const demand = hangerDemand(survey.content, criteria.content, beam.content, hanger);
    const { member, placement } = beam.content;
    return [
      {
        on: criteria.item,
        label: 'editions',
        values: { 'ASCE 7': criteria.content.editions.asce7, IRC: criteria.content.editions.irc },
      },
      {
        on: survey.item,
        label: `joists on the ${hanger.side} face`,
        values: {
          'dead load of one joist end': qty(demand.deadLb, 'lb'),
          'live load of one joist end': qty(demand.liveLb, 'lb'),
        },
      },
      {
        on: beam.item,
        label: 'the face they hang from',
        values: {
          placement,
          material: member.kind,
          depth: qty(memberDepthIn(member), 'in'),
          ...outputsFrom(beam.item, [`joist end, ${hanger.side}`]),
        },
      },
    ];
  },
  calculate: (hanger, context) =>
    calculateHanger(surveyOf(context).content, criteriaOf(context).content, beamOf(context).content, hanger),
};
