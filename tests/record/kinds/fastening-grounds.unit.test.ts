import { describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoSupports, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import type { FasteningRow } from '../../../src/engineering/fasteners/index.ts';
import type { Support } from '../../../src/engineering/proposal/design.ts';
import { calculateSupport } from '../../../src/engineering/proposal/support.ts';
import type { ContextItem } from '../../../src/record/kinds/definition.ts';
import { fasteningKind } from '../../../src/record/kinds/fastening/kind.ts';
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

describe('what the nailing of a pack takes from the packs', () => {
  const item = (
    kind: ContextItem['kind'],
    key: string,
    content: unknown,
    outputs: ContextItem['outputs'] = {},
  ) => ({ itemId: key, kind, key, title: key, number: 1, hash: '', content, outputs }) satisfies ContextItem;
  const grounds = (id: string, jacks: number) => {
    const packs = (['left', 'right'] as const).map((end, place) => {
      const support: Support = { ...demoSupports[place]!, end, jacks };
      const { outputs } = calculateSupport(demoSurvey, demoCriteria, demoBeam, support);
      return item('support', end, support, outputs);
    });
    const row = { id, joint: 'stud pack plies' } as FasteningRow;
    return fasteningKind
      .restsOn(row, {
        self: { itemId: '', key: '', title: '' },
        items: [item('criteria', 'criteria', demoCriteria), ...packs],
      })
      .filter(({ on }) => on.kind === 'support');
  };

  it('is the load and the count of jacks of its own end, though the beam reaches over two of them only', () => {
    expect(grounds('pack-plies-left', 2).map(({ on }) => on.key)).toEqual(['left']);
    expect(grounds('pack-plies-right', 2).map(({ on }) => on.key)).toEqual(['right']);
    expect(grounds('pack-plies-left', 2)[0]?.values).toMatchObject({ jacks: { value: 2 } });
    expect(grounds('pack-plies-left', 3)[0]?.values).toMatchObject({ jacks: { value: 3 } });
  });

  it('is both packs where the row does not say whose it is', () => {
    expect(grounds('typed-by-hand', 2)).toHaveLength(2);
  });
});
