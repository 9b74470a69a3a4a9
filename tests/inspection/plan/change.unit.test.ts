import { describe, expect, it } from 'vitest';
import { changePlan, type PlanChange } from '../../../src/inspection/plan/change.ts';
import {
  localCheckKeys,
  localChecks,
  planContentSchema,
  usualPlan,
  visitName,
  type PlanContent,
} from '../../../src/inspection/plan/plan.ts';
import { Invalid, NotFound } from '../../../src/problems.ts';

const { number: _number, ...usual } = usualPlan;
const after = (...changes: PlanChange[]): PlanContent =>
  changes.reduce<PlanContent>((plan, change) => changePlan(plan, change).content, usual);
const keys = (plan: PlanContent) => plan.visits.map((visit) => visit.key);
const draft = {
  key: 'draft-stop',
  visit: 'cover',
  title: 'Draft stop',
  criterion: 'Closed every 1000 sq ft',
  clause: '',
  howToLook: '',
  photoRequired: true,
  holdPoint: 'cover the framing',
};
function problemOf(change: PlanChange): Readonly<Record<string, string>> {
  try {
    changePlan(usual, change);
  } catch (error) {
    if (error instanceof Invalid) return error.fields;
    throw error;
  }
  return {};
}

describe('the plan of inspections', () => {
  it('begins with the usual ones, in their order', () => {
    expect(keys(usual)).toEqual(['shoring', 'footing', 'framing', 'electrical', 'cover', 'final']);
    expect(planContentSchema.parse(usual)).toEqual(usual);
  });

  it('renames, moves, switches off and on, and says so', () => {
    const renamed = changePlan(usual, { is: 'rename', visit: 'cover', name: ' Insulation ' });
    expect(visitName(renamed.content, 'cover')).toBe('Insulation');
    expect(renamed.words).toContain('is now “Insulation”');
    expect(keys(after({ is: 'move', visit: 'electrical', by: -1 }))).toEqual([
      'shoring',
      'footing',
      'electrical',
      'framing',
      'cover',
      'final',
    ]);
    expect(after({ is: 'move', visit: 'shoring', by: -1 })).toEqual(usual);
    const off = changePlan(usual, { is: 'switch off', visit: 'shoring', decidedBy: 'engineer' });
    expect(off.words).toContain('the engineer decides what it held back');
    expect(off.content.visits[0]).toMatchObject({ on: false, decidedBy: 'engineer' });
    expect(changePlan(off.content, { is: 'switch on', visit: 'shoring' }).content).toEqual(usual);
  });

  it('never switches one off without saying who decides', () => {
    for (const decidedBy of ['', 'contractor', 'nobody']) {
      expect(problemOf({ is: 'switch off', visit: 'shoring', decidedBy })).toEqual({
        'decidedBy.shoring': 'Say who decides what this inspection would have held back.',
      });
    }
  });

  it('adds one before the final one, with checks that go into lists', () => {
    const plan = after(
      { is: 'add visit', key: 'local-a', name: 'Slab cut' },
      { is: 'put check', check: { ...draft, visit: 'local-a' } },
      { is: 'put check', check: { ...draft, key: 'other', clause: 'Town code 12-4' } },
    );
    expect(keys(plan).slice(-2)).toEqual(['local-a', 'final']);
    const [own, onCover] = localChecks(plan);
    expect(own).toMatchObject({ visitKind: 'local', localVisit: 'local-a', clause: 'Local requirement' });
    expect(onCover).toMatchObject({ visitKind: 'cover', localVisit: '', clause: 'Town code 12-4' });
    expect(localCheckKeys(plan).size).toBe(2);
  });

  it('words a check anew under the same stem, and drops it', () => {
    const first = after({ is: 'put check', check: draft });
    const again = changePlan(first, { is: 'put check', check: { ...draft, criterion: 'Every 500 sq ft' } });
    expect(again.words).toContain('worded anew');
    const stem = (plan: PlanContent) => [...localCheckKeys(plan)].map((key) => key.split('#')[0]);
    expect(stem(again.content)).toEqual(stem(first));
    expect([...localCheckKeys(again.content)]).not.toEqual([...localCheckKeys(first)]);
    expect(changePlan(first, { is: 'drop check', key: draft.key }).content).toEqual(usual);
  });

  it.each([
    [{ is: 'rename', visit: 'cover', name: ' ' }, 'name.cover', 'Name the inspection.'],
    [{ is: 'rename', visit: 'cover', name: 'Final' }, 'name.cover', 'of that name already'],
    [{ is: 'rename', visit: 'cover', name: 'x'.repeat(81) }, 'name.cover', 'at most 80'],
    [{ is: 'add visit', key: 'local-a', name: '' }, 'newVisit', 'Name the inspection.'],
    [{ is: 'put check', check: { ...draft, title: '' } }, 'title', 'Fill this in.'],
    [{ is: 'put check', check: { ...draft, criterion: ' ' } }, 'criterion', 'Fill this in.'],
    [{ is: 'put check', check: { ...draft, holdPoint: 'go home' } }, 'holdPoint', 'Invalid'],
  ] as [PlanChange, string, string][])('refuses %o', (change, field, words) => {
    expect(problemOf(change)[field]).toContain(words);
  });

  it('knows what is not in it', () => {
    expect(() => changePlan(usual, { is: 'rename', visit: 'nowhere', name: 'x' })).toThrow(NotFound);
    expect(() => changePlan(usual, { is: 'drop check', key: 'none' })).toThrow(NotFound);
    expect(() => changePlan(usual, { is: 'put check', check: { ...draft, visit: 'nowhere' } })).toThrow(
      NotFound,
    );
  });
});
