import { describe, expect, it } from 'vitest';
import { roles } from '../../../src/people/roles.ts';
import { nextSteps, type OpeningFacts } from '../../../src/record/openings/next-steps.ts';
import type { StateCount } from '../../../src/record/openings/overview-store.ts';
import { stateCounts } from '../../../src/record/openings/overview.ts';

const entered = (kind: StateCount['kind'], count = 1): StateCount => ({
  kind,
  state: kind === 'survey' ? 'basis' : 'not submitted',
  count,
});

const everybody = {
  hasCriteria: true,
  facesToHang: 2,
  roles: new Set(roles),
  newestSet: 0,
  corrections: [],
  returned: [],
};

function words(rows: readonly StateCount[], over: Partial<OpeningFacts> = {}): string[] {
  const facts = { ...everybody, ...over };
  return nextSteps('contractor', 'o', facts, stateCounts(rows, 0)).map((step) => step.words);
}

describe('what comes next for the contractor', () => {
  it('leads down the whole path of the load before the rows, which rest on all of it', () => {
    const path: readonly [StateCount, string][] = [
      [entered('survey'), 'Propose the beam.'],
      [entered('beam'), 'Propose the stud packs at both ends.'],
      [entered('support'), 'Propose the stud pack at the other end.'],
      [entered('support'), 'Say what is under the packs: the concrete found, or a new pad.'],
      [entered('footing'), 'Say what is under the pack at the other end.'],
      [entered('footing'), 'Enter the hangers that carry the joists at the flush beam.'],
      [entered('hanger'), 'Enter the hangers at the other face of the beam.'],
      [entered('hanger'), 'Plan the temporary walls.'],
      [entered('shoring'), 'Put the fastening rows in; they can be computed from the design.'],
    ];
    const there: StateCount[] = [];
    expect(words(there)[0]).toBe('Enter the survey: what bears on the wall today.');
    for (const [row, next] of path) {
      there.push(row);
      expect(words(there)[0]).toBe(next);
    }
    there.push(entered('fastening', 9));
    expect(words(there)).toEqual([
      'Trace the circuits, pipes and ducts in the wall, and list them.',
      'Submit 17 items to the engineer.',
    ]);
    there.push(entered('service'));
    expect(words(there)).toEqual(['Submit 18 items to the engineer.']);
  });

  it('leads on to material and work once a set is issued', () => {
    expect(
      words([{ kind: 'beam', state: 'approved', count: 1 }, entered('survey')], { newestSet: 2 }).slice(-2),
    ).toEqual([
      'Order by the material list of set 2, and check what arrives.',
      'See what may start today, and what waits.',
    ]);
  });

  it('asks for no hanger where joists stand on a dropped beam', () => {
    const there = [entered('survey'), entered('beam'), entered('support', 2), entered('footing', 2)];
    expect(words(there, { facesToHang: 0 })[0]).toBe('Plan the temporary walls.');
  });

  it('leads to whom it lacks: an engineer who marks, an inspector who looks', () => {
    const alone = new Set(['contractor', 'owner'] as const);
    const submitted: StateCount[] = [{ kind: 'beam', state: 'awaiting mark', count: 1 }];
    const invitation = 'Invite the engineer: nobody is there yet who marks what you submit.';
    expect(words(submitted, { roles: alone })).toContain(invitation);
    expect(words([entered('beam')], { roles: alone })).toContain(invitation);
    expect(words([], { roles: alone })).not.toContain(invitation);
    expect(words(submitted)).not.toContain(invitation);
    const issued: StateCount[] = [{ kind: 'beam', state: 'approved', count: 1 }];
    const looks = 'Invite the inspector: nobody is there yet who looks at the work.';
    expect(words(issued, { roles: alone, newestSet: 1 })).toContain(looks);
    expect(words(issued, { newestSet: 1 })).not.toContain(looks);
  });

  it('leads to what the inspector wants put right before anything is ordered', () => {
    const issued: StateCount[] = [{ kind: 'beam', state: 'approved', count: 1 }, entered('survey')];
    const said = words(issued, { newestSet: 1, corrections: ['Bearing at the left end'] });
    const correction = 'Put right what the inspector found, and say so: Bearing at the left end.';
    const order = said.findIndex((one) => one.startsWith('Order by'));
    expect(said.indexOf(correction)).toBeGreaterThanOrEqual(0);
    expect(said.indexOf(correction)).toBeLessThan(order);
    expect(words(issued, { newestSet: 1, corrections: ['A', 'B'] })).toContain(
      'Put right 2 things that the inspector found, and say so.',
    );
  });

  it('tells what is with the engineer as something that waits, nothing to do next', () => {
    const facts = everybody;
    const rows: StateCount[] = [{ kind: 'beam', state: 'awaiting mark', count: 1 }];
    const steps = nextSteps('contractor', 'o', facts, stateCounts(rows, 0));
    expect(steps.filter((step) => step.waits).map((step) => step.words)).toEqual([
      '1 item with the engineer.',
    ]);
  });

  it('leads to each returned item, and counts those that have no line', () => {
    const rows: StateCount[] = [{ kind: 'fastening', state: 'returned', count: 6 }];
    const returned = [1, 2, 3, 4, 5].map((n) => ({ itemId: `item-${n}`, title: `Row N${n}` }));
    const facts = { ...everybody, returned };
    const steps = nextSteps('contractor', 'o', facts, stateCounts(rows, 0)).slice(1);
    expect(steps[0]).toEqual({ words: 'Answer what the engineer returned: Row N1.', to: '/items/item-1' });
    expect(steps.map((step) => step.to)).toEqual([...[1, 2, 3, 4].map((n) => `/items/item-${n}`), '']);
    expect(steps[4]?.words).toBe('Answer 2 items more that the engineer returned.');
  });
});
