import { describe, expect, it } from 'vitest';
import { demoBeam, demoHangers, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import type { Beam } from '../../../src/engineering/proposal/design.ts';
import type { ItemKind } from '../../../src/record/kinds/definition.ts';
import { supportForm } from '../../../src/record/kinds/support/form.ts';

const deep: Beam = {
  ...demoBeam,
  member: { kind: 'composite', class: 'LVL 2.0E', thicknessIn: 1.75, depthIn: 11.875, plies: 3 },
};

function heightWith(...there: readonly [ItemKind, unknown][]): unknown {
  const grounds = new Map<ItemKind, unknown>([['survey', demoSurvey], ...there]);
  return supportForm.start(grounds, 'left', '2026-05-09').heightIn;
}

// Wall 8'-1 1/8" less a plate of 1 1/2"; a 2x10 is 9 1/4" deep (PS 20).
describe('the height of the jacks that a new support begins with', () => {
  it('is that of the wall under a flush beam, as long as nobody knows its joists', () => {
    expect(heightWith(['beam', deep])).toBe(`7'-11 5/8"`);
  });
  it('is less by what the beam is deeper than the joists of its hangers', () => {
    expect(heightWith(['beam', deep], ['hanger', demoHangers[0]])).toBe(`7'-9"`);
    const level: Beam = { ...deep, member: { ...deep.member, depthIn: 9.25 } as Beam['member'] };
    expect(heightWith(['beam', level], ['hanger', demoHangers[0]])).toBe(`7'-11 5/8"`);
  });
  it('is less by the whole beam under a dropped one', () => {
    expect(heightWith(['beam', { ...deep, placement: 'dropped' }])).toBe(`6'-11 3/4"`);
  });
  it('counts a header of 2x12 as 11 1/4" deep, as PS 20 dresses it', () => {
    const member = { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x12', plies: 2 } as const;
    expect(heightWith(['beam', { ...demoBeam, member, placement: 'dropped' }])).toBe(`7'-0 3/8"`);
  });
});
