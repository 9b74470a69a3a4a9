import { describe, expect, it } from 'vitest';
import { demoBeam, demoFootings, demoRows, demoSupports } from '../../src/demo/cinder-ferry.ts';
import { demoShoring as shoring } from './support/shoring.ts';
import type { Hanger } from '../../src/engineering/proposal/design.ts';
import { produceChecks, type ApprovedContent } from '../../src/inspection/checks/produce.ts';

const entry = (
  kind: ApprovedContent['kind'],
  content: unknown,
  itemId = kind as string,
): ApprovedContent => ({
  itemId,
  versionId: `${itemId}-v`,
  kind,
  key: itemId,
  title: `The ${kind}`,
  content,
});
const hanger: Hanger = {
  side: 'front',
  joistSize: '2x10',
  spacingIn: 16,
  nailCount: 10,
  nailDiameterIn: 0.148,
  nailLengthIn: 3,
  listing: {
    report: 'Report H-1',
    downLb: 900,
    upLb: 200,
    nailsRequired: 10,
    nailDiameterIn: 0.148,
    nailLengthIn: 3,
    shortNailsAllowed: false,
  },
};
const criteria = (kind: ApprovedContent['kind'], content: unknown) =>
  Object.fromEntries(produceChecks([entry(kind, content)]).map((check) => [check.rule, check.criterion]));

describe('checks of an approved set', () => {
  it('take their numbers from the approved beam', () => {
    const found = criteria('beam', { ...demoBeam, bearingLeftIn: 4.5 });
    expect(found.member).toContain('3 plies 1 3/4" x 9 1/2" LVL 2.0E');
    expect(found['bearing-left']).toContain('4 1/2" of beam');
    expect(found['bearing-right']).toContain('3" of beam');
    expect(found.hangers).toContain('Every joist in its hanger');
    expect(criteria('beam', { ...demoBeam, placement: 'dropped' }).hangers).toBeUndefined();
  });

  it('from the approved packs and footings', () => {
    expect(criteria('support', demoSupports[0]).pack).toContain('2 jacks and 1 king 2x6 DF-L No.2');
    expect(criteria('footing', demoFootings[1]).found).toContain('4 1/4" thick');
    const withPad = { ...demoFootings[1], pad: { lengthIn: 30, widthIn: 28, thicknessIn: 12 } };
    expect(criteria('footing', withPad).pit).toContain('30" along and 28" across the wall, 12" deep');
    expect(criteria('footing', { ...withPad, postTensioned: 'yes' }).tendons).toContain('Not to be cut');
  });

  it('hold the pour where a pad is poured, the load where concrete is there already', () => {
    const holds = (content: unknown) =>
      produceChecks([entry('footing', content)]).map((check) => check.holdPoint);
    expect(holds(demoFootings[0])).toEqual(['take the shoring out']);
    const pad = { lengthIn: 30, widthIn: 28, thicknessIn: 12 };
    expect(new Set(holds({ ...demoFootings[1], pad }))).toEqual(new Set(['pour the footing']));
  });

  it('from the approved fastening row: nail, rows, spacing, distances, sides', () => {
    const { row } = criteria('fastening', demoRows[0]!.content);
    for (const words of ['.128 x 3"', '2 rows at 12"', 'staggered', 'both sides', 'edge 2"', 'end 2 1/2"']) {
      expect(row).toContain(words);
    }
  });

  it('come in the order of the visits, with keys that stay from set to set', () => {
    const entries = [entry('beam', demoBeam), entry('footing', demoFootings[0])];
    const checks = produceChecks(entries);
    expect(checks[0]?.visitKind).toBe('footing');
    expect(new Set(checks.map((check) => check.key)).size).toBe(checks.length);
    const later = produceChecks(entries.map((one) => ({ ...one, versionId: 'later' })));
    expect(later.map((check) => check.key)).toEqual(checks.map((check) => check.key));
  });

  it('say for every kind the number, the clause and how to look', () => {
    const all = produceChecks([
      entry('beam', demoBeam),
      entry('support', demoSupports[0]),
      entry('footing', demoFootings[0]),
      entry('hanger', hanger),
      entry('fastening', demoRows[0]!.content),
      entry('shoring', shoring),
    ]);
    for (const check of all) {
      expect(check.criterion.length, check.key).toBeGreaterThan(20);
      expect(check.clause, check.key).not.toBe('');
      expect(check.howToLook, check.key).not.toBe('');
      expect(check.versionId, check.key).not.toBeNull();
    }
    // A line of hangers says its nails; the beam's general line would repeat them.
    expect(all.filter((check) => check.title.includes('anger')).map((check) => check.rule)).toEqual([
      'listing',
      'nails',
      'seat',
    ]);
  });

  it('from the approved shoring plan: studs, storeys, sole, bracing, braces', () => {
    const found = criteria('shoring', shoring);
    expect(found.walls).toContain('Both sides, 2\'-0" off, 2x4 DF-L No.2 studs at 16", 2 top plates');
    expect(found.storeys).toContain('2 storeys shored');
    expect(found.sole).toContain('on the slab');
    expect(found.bracing).toContain('every 4\'-0"');
    expect(found.braces).toContain('strongback');
    expect(criteria('shoring', { ...shoring, bracesRelanded: false }).braces).toBeUndefined();
    expect(criteria('shoring', { ...shoring, midHeightBracingIn: 0 }).bracing).toContain('racking');
    const holds = produceChecks([entry('shoring', shoring)]).filter((check) => check.visitKind === 'shoring');
    expect(new Set(holds.map((check) => check.holdPoint))).toEqual(new Set(['take the wall out']));
  });

  it('from the approved hanger line and its listing', () => {
    const found = criteria('hanger', hanger);
    expect(found.nails).toContain('10 nails .148 x 3"');
    expect(found.seat).toContain('every 2x10 joist at 16"');
    expect(found.listing).toContain('Report H-1 for 2x10 (900 lb down, 200 lb up), 10 nails asked for');
    const { listing: _none, ...unlisted } = hanger;
    expect(criteria('hanger', unlisted).listing).toContain('nothing here can be accepted');
  });

  it('from what stands under a pack: blocks through the floor, a post below', () => {
    const lumber = { species: 'DF-L', grade: 'No.2', size: '2x6' };
    const found = criteria('support', {
      ...demoSupports[0],
      squashBlocks: { ...lumber, count: 4, heightIn: 9.25, on: lumber, endDistanceIn: 30 },
      girderPost: {
        species: 'DF-L',
        grade: 'No.1',
        size: '6x6',
        heightIn: 30,
        girder: { ...lumber, size: '2x10', plies: 3 },
        girderEndDistanceIn: 60,
        offPostIn: 2,
      },
    });
    expect(found['squash-blocks']).toContain('4 2x6 DF-L No.2 on end, 9 1/4" high');
    expect(found['girder-post']).toContain('6x6 DF-L No.1 post under the 3-ply 2x10 girder');
  });

  /*
   * IRC R602.6 as a fraction of the dressed depth, worked by hand: 2x6 is 5 1/2 in: 25 % 1.375 in, 40 % 2.2 in, 60 %
   * 3.3 in; 2x4 is 3 1/2 in: 0.875, 1.4, 2.1 in; each rounded down to 1/16 in, so that nothing more is allowed.
   */
  it.each([
    ['2x6', '1 3/8"', '2 3/16"', '3 1/4"'],
    ['2x4', '7/8"', '1 3/8"', '2 1/16"'],
  ])('say what may be cut out of a %s stud', (size, notch, hole, doubled) => {
    const { studs } = criteria('support', { ...demoSupports[0], size });
    expect(studs).toContain(`notch ${notch} at most, hole ${hole} at most (${doubled} where`);
  });

  it('say what the code asks of the wall around the beam', () => {
    const found = criteria('beam', demoBeam);
    for (const words of ['16 gage', '1 1/2 in wide', '8 nails .148 x 1 1/2"', '6 in or more past']) {
      expect(found['plates-cut']).toContain(words);
    }
    expect(found['nail-plates']).toContain('less than 1 1/4 in');
    expect(found['fire-blocking']).toContain('floor and ceiling level');
    expect(criteria('beam', { ...demoBeam, placement: 'dropped' })['fire-blocking']).toContain('soffit');
    expect(found.alarms).toContain('each sleeping room');
    const strap = { ...demoRows[0]!.content, joint: 'top plate strap' };
    const rules = produceChecks([entry('beam', demoBeam), entry('fastening', strap)]).map(({ rule }) => rule);
    expect(rules).not.toContain('plates-cut');
  });

  it('and from nothing that is not in the set', () => {
    expect(produceChecks([])).toEqual([]);
  });
});
