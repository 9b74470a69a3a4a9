import { supportSchema, type Support } from '../../../engineering/proposal/design.ts';
import { calculateSupport } from '../../../engineering/proposal/support.ts';
import { qty } from '../../../engineering/trace/index.ts';
import { formatFeetInches } from '../../../engineering/units/index.ts';
import type { ItemKindDefinition } from '../definition.ts';
import { memberWords } from '../beam/kind.ts';
import { beamOf, criteriaOf, outputsFrom, surveyOf } from '../grounds.ts';

export function packWords(support: Support): string {
  const { size, species, grade } = support;
  if (support.kind === 'post') return `Solid post ${size} ${species} ${grade}`;
  const jacks = support.jacks === 1 ? '1 jack' : `${support.jacks} jacks`;
  const kings = support.kings === 1 ? '1 king' : `${support.kings} kings`;
  return `${jacks} and ${kings} ${size} ${species} ${grade}`;
}

const lumberWords = ({ size, species, grade }: Readonly<Record<'size' | 'species' | 'grade', string>>) =>
  `${size} ${species} ${grade}`;

/** What carries the load on, below the floor that the pack stands on. */
function belowWords({ squashBlocks, girderPost }: Support): string[] {
  const feet = (inches: number) => formatFeetInches(inches, { to: 16 });
  const lines: string[] = [];
  if (squashBlocks !== undefined) {
    const { count, heightIn, on } = squashBlocks;
    lines.push(
      `${count} squash ${count === 1 ? 'block' : 'blocks'} ${lumberWords(squashBlocks)} through ${feet(heightIn)} of floor, on ${lumberWords(on)}`,
    );
  }
  if (girderPost !== undefined) {
    const { girder, heightIn } = girderPost;
    const plies = girder.plies === 1 ? '' : `${girder.plies} `;
    lines.push(
      `Post ${lumberWords(girderPost)}, ${feet(heightIn)} high, under the girder of ${plies}${lumberWords(girder)}`,
    );
  }
  return lines;
}

export const supportKind: ItemKindDefinition<Support> = {
  kind: 'support',
  title: 'Support',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey', 'beam'],
  schema: supportSchema,
  labels: { jacks: 'jacks', kings: 'kings', heightIn: 'height', plateSpecies: 'plate species' },
  describe: (support) => [
    `${packWords(support)}, ${support.end} end`,
    `${formatFeetInches(support.heightIn, { to: 16 })} high, plies ${support.fastening === 'not qualifying' ? 'not fastened as one' : support.fastening}${support.bracedWeakAxisIn === undefined ? '' : `, held along the wall every ${formatFeetInches(support.bracedWeakAxisIn, { to: 16 })}`}`,
    `Plate: ${support.plateSpecies} ${support.plateGrade}`,
    ...belowWords(support),
  ],
  restsOn(support, context) {
    const criteria = criteriaOf(context);
    const survey = surveyOf(context);
    const beam = beamOf(context);
    const { wallIsExterior, wallHeightIn, openingFromIn, openingToIn, below } = survey.content;
    const bearingIn = support.end === 'left' ? beam.content.bearingLeftIn : beam.content.bearingRightIn;
    return [
      {
        on: criteria.item,
        label: 'editions',
        values: {
          NDS: criteria.content.editions.nds,
          'ASCE 7': criteria.content.editions.asce7,
          // Wind bends the kings of an exterior wall, and no others.
          ...(wallIsExterior ? { 'wind on walls': qty(criteria.content.windWallPsf, 'psf') } : {}),
        },
      },
      {
        on: survey.item,
        label: 'the wall',
        values: {
          'stands on': below,
          ...(wallIsExterior
            ? {
                'exterior, height': qty(wallHeightIn, 'in'),
                opening: qty(openingToIn - openingFromIn, 'in'),
              }
            : {}),
        },
      },
      {
        on: beam.item,
        label: `${support.end} reaction`,
        values: {
          bearing: qty(bearingIn, 'in'),
          'stands on the pack': memberWords(beam.content.member),
          ...outputsFrom(beam.item, [`${support.end} reaction`, `${support.end} uplift`]),
        },
      },
    ];
  },
  calculate: (support, context) =>
    calculateSupport(
      surveyOf(context).content,
      criteriaOf(context).content,
      beamOf(context).content,
      support,
    ),
};
