import { describe, expect, it } from 'vitest';
import { demoBeam, demoFootings, demoRows, demoSupports } from '../../src/demo/cinder-ferry.ts';
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

  it('and from nothing that is not in the set', () => {
    expect(produceChecks([])).toEqual([]);
  });
});
