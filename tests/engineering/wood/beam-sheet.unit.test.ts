import { describe, expect, it } from 'vitest';
import {
  checkWoodBeam,
  ORDINARY_CONDITIONS,
  type WoodBeamInput,
} from '../../../src/engineering/wood/index.ts';
import { glulam, header, lvl, sawn, sheet } from './wood-fixtures.ts';

describe('the calculation sheet', () => {
  it('reads as written: sawn, wet, notched, held at points', () => {
    const base = header(sawn('SPF', 'No.2', '2x12', 2));
    const input: WoodBeamInput = {
      ...base,
      id: 'girder',
      conditions: { ...ORDINARY_CONDITIONS, wet: true, seasoned: false },
      bracing: { topIn: 48, bottomIn: 96, loadCase: 'uniform' },
      combinations: base.combinations.map((c) => ({ ...c, momentNegativeLbIn: 1000 })),
      limits: { ...base.limits, absoluteIn: 0.5 },
      notch: { location: 'end', edge: 'compression', depthIn: 1.5, reachIn: 2 },
      bearings: base.bearings.map((b) => ({ ...b, endDistanceIn: 12 })),
    };
    expect(sheet(checkWoodBeam(input))).toMatchSnapshot();
  });

  it('reads as written: glulam', () => {
    const input = { ...header(glulam('24F-V4', 3.125, 18), 240), bracing: { topIn: 0 } };
    expect(sheet(checkWoodBeam(input))).toMatchSnapshot();
  });

  it('reads as written: composite, shallow and deep, notched below', () => {
    const notch = { location: 'end', edge: 'tension', depthIn: 1, reachIn: 0 } as const;
    expect(sheet(checkWoodBeam({ ...header(lvl(9.5, 3)), notch }))).toMatchSnapshot();
    expect(sheet(checkWoodBeam(header(lvl(16, 9))))).toMatchSnapshot();
  });
});
