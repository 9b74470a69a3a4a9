import { describe, expect, it } from 'vitest';
import { roofFigures } from '../../../src/record/kinds/fastening/roof-figures.ts';
import { criteria, survey } from '../../engineering/loads/cinder-ferry.ts';

const tied = {
  ...survey,
  strips: survey.strips.map((strip) =>
    strip.carries === 'ceiling' ? { ...strip, tiesRafters: true } : strip,
  ),
};

describe('what a fastening row takes from the survey', () => {
  it('is the thrust’s figures for a joist tie, and moves with pitch and snow', () => {
    const now = roofFigures('joist tie', tied, criteria);
    expect(now).toMatchObject({ 'roof rise in 12': { value: 8 }, 'rafters, wall to wall': { value: 312 } });
    const flatter = { ...tied, roof: { ...tied.roof!, riseIn12: 6 } };
    expect(roofFigures('joist tie', flatter, criteria)).not.toEqual(now);
    expect(roofFigures('joist tie', tied, { ...criteria, groundSnowPsf: 60 })).not.toEqual(now);
    expect(roofFigures('joist tie', survey, criteria)).toEqual({ thrust: 'none' });
  });

  it('is what every brace brings down for a brace foot', () => {
    const now = roofFigures('brace foot', survey, criteria)!;
    expect(Object.keys(now)).toHaveLength(survey.braces.length * 4);
    const larger = survey.braces.map((brace) => ({ ...brace, tributaryFt2: brace.tributaryFt2 + 4 }));
    expect(roofFigures('brace foot', { ...survey, braces: larger }, criteria)).not.toEqual(now);
  });

  it('is nothing for the others', () => {
    expect(roofFigures('beam plies', survey, criteria)).toBeUndefined();
  });
});
