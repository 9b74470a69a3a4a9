import { footingSchema, type Footing } from '../../../engineering/proposal/design.ts';
import { calculateFooting } from '../../../engineering/proposal/footing.ts';
import { qty } from '../../../engineering/trace/index.ts';
import type { ItemKindDefinition } from '../definition.ts';
import { beamOf, criteriaOf, outputsFrom, supportAt, surveyOf } from '../grounds.ts';

export const footingKind: ItemKindDefinition<Footing> = {
  kind: 'footing',
  title: 'Footing',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey', 'beam', 'support'],
  schema: footingSchema,
  describe: (footing) => [
    `Under the ${footing.end} pack; found: ${footing.found === 'nothing known' ? 'nothing known' : `${footing.foundWidthIn} in wide, ${footing.foundThicknessIn} in thick (${footing.found})`}`,
    footing.pad === undefined
      ? 'No new pad'
      : `Pad ${footing.pad.lengthIn} x ${footing.pad.widthIn} x ${footing.pad.thicknessIn} in, f′c ${footing.concretePsi} psi`,
    `Post-tensioned: ${footing.postTensioned}`,
  ],
  restsOn(footing, context) {
    const criteria = criteriaOf(context);
    const beam = beamOf(context);
    const support = supportAt(context, footing.end);
    return [
      {
        on: criteria.item,
        label: 'soil and editions',
        values: {
          soil: qty(criteria.content.soilBearingPsf, 'psf'),
          'ACI 318': criteria.content.editions.aci318,
          'ASCE 7': criteria.content.editions.asce7,
        },
      },
      {
        on: beam.item,
        label: `${footing.end} reaction`,
        values: outputsFrom(beam.item, [`${footing.end} reaction`]),
      },
      {
        on: support.item,
        label: 'size of the pack',
        values: outputsFrom(support.item, ['length along the wall', 'width', 'kings', 'on the kings']),
      },
    ];
  },
  calculate: (footing, context) =>
    calculateFooting(
      surveyOf(context).content,
      criteriaOf(context).content,
      beamOf(context).content,
      supportAt(context, footing.end).content,
      footing,
    ),
};
