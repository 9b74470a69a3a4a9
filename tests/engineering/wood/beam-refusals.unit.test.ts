import { describe, expect, it } from 'vitest';
import {
  checkWoodBeam,
  judgeWoodBeam,
  ORDINARY_CONDITIONS,
  type WoodBeamInput,
} from '../../../src/engineering/wood/index.ts';
import { header, sawn } from './wood-fixtures.ts';

describe('what can’t be', () => {
  const good = header(sawn('DF-L', 'No.2', '2x10', 3));
  const first = good.combinations[0]!;
  const combined = (change: object) => ({ ...good, combinations: [{ ...first, ...change }] });

  it.each<[string, WoodBeamInput]>([
    ['spanIn', { ...good, spanIn: 0 }],
    ['spanIn', { ...good, spanIn: NaN }],
    ['volumeLengthIn', { ...good, volumeLengthIn: -1 }],
    ['bracing.topIn', { ...good, bracing: { topIn: -1 } }],
    ['bracing.bottomIn', { ...good, bracing: { topIn: 0, bottomIn: -1 } }],
    ['limits.liveRatio', { ...good, limits: { liveRatio: 0, totalRatio: 240 } }],
    ['limits.totalRatio', { ...good, limits: { liveRatio: 360, totalRatio: -1 } }],
    ['limits.absoluteIn', { ...good, limits: { liveRatio: 360, totalRatio: 240, absoluteIn: 0 } }],
    ['combinations', { ...good, combinations: [] }],
    ['combinations.0.loadDuration', combined({ loadDuration: 3 })],
    ['combinations.0.momentLbIn', combined({ momentLbIn: -1 })],
    ['combinations.0.momentNegativeLbIn', combined({ momentNegativeLbIn: Infinity })],
    ['combinations.0.shearLb', combined({ shearLb: NaN })],
    ['combinations.0.shearAtSupportLb', combined({ shearAtSupportLb: -1 })],
    ['combinations.0.reactionsLb', combined({ reactionsLb: [1] })],
    ['combinations.0.reactionsLb.1', combined({ reactionsLb: [1, -1] })],
    [
      'bearings.1.lengthIn',
      { ...good, bearings: [good.bearings[0]!, { ...good.bearings[1]!, lengthIn: 0 }] },
    ],
    ['bearings.0.widthIn', { ...good, bearings: good.bearings.map((b) => ({ ...b, widthIn: 0 })) }],
    [
      'bearings.0.endDistanceIn',
      { ...good, bearings: good.bearings.map((b) => ({ ...b, endDistanceIn: -1 })) },
    ],
    ['deflections.0.spanIn', { ...good, deflections: [{ ...good.deflections[0]!, spanIn: 0 }] }],
    [
      'deflections.0.shortTermEiLbIn3',
      { ...good, deflections: [{ ...good.deflections[0]!, shortTermEiLbIn3: NaN }] },
    ],
    [
      'deflections.0.longTermEiLbIn3',
      { ...good, deflections: [{ ...good.deflections[0]!, longTermEiLbIn3: Infinity }] },
    ],
    ['conditions.temperatureF', { ...good, conditions: { ...ORDINARY_CONDITIONS, temperatureF: 200 } }],
  ])('is refused at %s', (path, input) => {
    expect(() => judgeWoodBeam(input)).toThrow(expect.objectContaining({ path }));
    expect(() => checkWoodBeam(input)).toThrow(expect.objectContaining({ path }));
  });

  it('says what is missing', () => {
    expect(() => judgeWoodBeam({ ...good, combinations: [] })).toThrow(
      'A beam is checked for one combination at least.',
    );
    expect(() => judgeWoodBeam(combined({ reactionsLb: [] }))).toThrow(
      'There is one reaction for each bearing.',
    );
  });
});
