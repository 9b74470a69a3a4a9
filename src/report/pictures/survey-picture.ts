import { takeOffLoads } from '../../engineering/loads/take-off/take-off.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { formatFeetInches } from '../../engineering/units/index.ts';
import { drawLoadPicture } from '../drawings/index.ts';
import { drawnLineLoads, drawnPointLoads } from './drawn-loads.ts';
import type { Picture } from './picture.ts';

/**
 * The wall as it stands, the opening to be made and all that the wall holds up there today: joists as surveyed, no
 * beam yet.
 *
 * @param id unique on the page
 * @throws Refusal where an entry of the survey makes no sense
 */
export function surveyPicture(id: string, survey: Survey, criteria: Criteria): Picture {
  const { loads } = takeOffLoads(survey, criteria, { joistsAtBeam: 'as surveyed' });
  const lineLoads = drawnLineLoads(loads, 0);
  const pointLoads = drawnPointLoads(loads, 0);
  const wide = formatFeetInches(survey.openingToIn - survey.openingFromIn, { to: 16 });
  const title = 'What the wall holds up today';
  return {
    title,
    svg: drawLoadPicture({
      id,
      title,
      description: `Wall ${formatFeetInches(survey.wallLengthIn, { to: 16 })} long, opening ${wide} wide. ${lineLoads.length} loads along the wall, ${pointLoads.length} at points.`,
      datum: survey.datum,
      wallLengthIn: survey.wallLengthIn,
      wallHeightIn: survey.wallHeightIn,
      opening: { fromIn: survey.openingFromIn, toIn: survey.openingToIn },
      pieces: [],
      lineLoads,
      pointLoads,
      supports: [],
    }),
  };
}
