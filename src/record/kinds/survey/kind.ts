import { formatFeetInches } from '../../../engineering/units/index.ts';
import { surveySchema, type Survey } from '../../../engineering/proposal/survey.ts';
import type { ItemKindDefinition } from '../definition.ts';

const feet = (inches: number) => formatFeetInches(inches, { to: 16 });
const rows = (count: number, one: string) => (count === 1 ? `1 ${one}` : `${count} ${one}s`);

export const surveyKind: ItemKindDefinition<Survey> = {
  kind: 'survey',
  title: 'Survey',
  reviewable: false,
  restsOnKinds: [],
  schema: surveySchema,
  labels: {
    openingFromIn: 'opening, left face',
    openingToIn: 'opening, right face',
    'strips.*.frontSpanIn': 'front span',
    'strips.*.rearSpanIn': 'rear span',
    'strips.*.livePsf': 'live load',
    'strips.*.deadPsf': 'dead load',
    'braces.*.positionIn': 'brace, position',
    'braces.*.tributaryFt2': 'brace, roof area',
  },
  observations: ({ strips, wallsAbove, braces, landings }) =>
    [...strips, ...wallsAbove, ...braces, ...landings].map(({ id, label }) => ({ id, label })),
  describe: (survey) => [
    `Wall ${feet(survey.wallLengthIn)} long, ${feet(survey.wallHeightIn)} high, ${feet(survey.wallThicknessIn)} thick`,
    `Clear opening ${feet(survey.openingToIn - survey.openingFromIn)}, from ${feet(survey.openingFromIn)} to ${feet(survey.openingToIn)} from ${survey.datum}`,
    ...survey.strips.map(
      (strip) =>
        `${strip.label}: ${feet(strip.frontSpanIn)} front, ${feet(strip.rearSpanIn)} rear, ${strip.overWall} over the wall, ${strip.deadPsf} psf dead, ${strip.livePsf} psf live (${strip.evidence})`,
    ),
    ...survey.wallsAbove.map(
      (wall) => `${wall.label}: ${feet(wall.heightIn)} high, ${wall.deadPsf} psf (${wall.evidence})`,
    ),
    ...(survey.braces.length === 0 ? [] : [`${rows(survey.braces.length, 'roof brace')} on the wall`]),
    ...survey.landings.map(
      (landing) => `${landing.label} at ${feet(landing.positionIn)} (${landing.evidence})`,
    ),
    `Below: ${survey.below}`,
  ],
  restsOn: () => [],
  calculate: () => null,
};
