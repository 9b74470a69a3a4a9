import { describe, expect, it } from 'vitest';
import { Invalid } from '../../../src/problems.ts';
import { ownersDays } from '../../../src/site/owner/days.ts';
import { UNTOLD_ZONE } from '../../../src/house-time.ts';
import { daySchema, isAfterDay, isToCome } from '../../../src/site/sequence/day.ts';
import { changeSequence, movedDays, stepsOf, type SequencePlan } from '../../../src/site/sequence/plan.ts';
import { timelineOf } from '../../../src/site/sequence/show.ts';
import {
  outOfOrder,
  stepStandings,
  type LoggedWork,
  type RecordedStep,
  type SequenceFacts,
} from '../../../src/site/sequence/standing.ts';
import { usualSteps } from '../../../src/site/sequence/steps.ts';

const done = (since: Date | null = null): RecordedStep => ({ done: true, missing: [], since, href: '' });
const missing = (...sentences: string[]): RecordedStep => ({
  done: false,
  missing: sentences,
  since: null,
  href: '/somewhere',
});
const recordedKeys = usualSteps.filter(({ from }) => from === 'record').map(({ key }) => key);
const everything = Object.fromEntries(recordedKeys.map((key) => [key, done()]));
const nothing: SequencePlan = { number: 0, steps: [] };
const logged = (step: string, doneOn: string, more: Partial<LoggedWork> = {}): LoggedWork => ({
  workEntryId: step,
  number: 1,
  step,
  title: step,
  doneOn,
  who: 'R. T.',
  note: '',
  outOfOrder: [],
  byName: 'R. T.',
  at: new Date('2026-05-10T12:00:00Z'),
  withdrawal: null,
  ...more,
});
const facts = (over: Partial<SequenceFacts> = {}): SequenceFacts => ({
  openingId: 'opening',
  timeZone: 'America/Los_Angeles',
  steps: stepsOf(nothing),
  recorded: everything,
  guarded: ['pour the footing', 'cover the framing', 'take the wall out', 'take the shoring out'],
  stopped: '',
  entries: [],
  ...over,
});
const standing = (key: string, over: Partial<SequenceFacts> = {}) =>
  stepStandings(facts(over)).find(({ step }) => step.key === key)!;
const step = (key: string, given = facts()) => given.steps.find((one) => one.key === key)!;

describe('the usual order of work', () => {
  it('names only steps that exist, each needing steps that come before it', () => {
    const keys = usualSteps.map(({ key }) => key as string);
    expect(new Set(keys).size).toBe(keys.length);
    for (const [index, { needs }] of usualSteps.entries()) {
      for (const need of needs) expect(keys.indexOf(need)).toBeLessThan(index);
      expect(needs.every((need) => keys.includes(need))).toBe(true);
    }
  });

  it('what keeps the house up can’t be switched off', () => {
    for (const key of [
      'permit',
      'set',
      'services',
      'shoring',
      'shoring_accepted',
      'wall_out',
      'framing_accepted',
    ]) {
      expect(step(key).mayBeOff).toBe(false);
    }
  });
});

describe('may the wall come out', () => {
  const before = [logged('hazards', '2026-05-01'), logged('shoring', '2026-05-04')];

  it('yes, once everything before it is done', () => {
    expect(standing('wall_out', { entries: before })).toMatchObject({ state: 'may start', reasons: [] });
  });

  it.each([
    ['permit', 'no permit number is written down.'],
    ['set', 'none yet.'],
    ['services', 'Circuit 2: neither proved dead nor removed by anybody yet.'],
    ['material', 'beam plies missing.'],
    ['shoring_accepted', 'Waits for 1: Studs.'],
  ])('no, for want of: %s', (key, sentence) => {
    const { state, reasons } = standing('wall_out', {
      entries: before,
      recorded: { ...everything, [key]: missing(sentence) },
    });
    expect(state).toBe('waits');
    expect(reasons).toEqual([{ sentence: `${step(key).title}: ${sentence}`, href: '/somewhere' }]);
  });

  it('a step that an inspection releases has each of its checks, not one list of them', () => {
    const parts = { heading: 'Waits for 2 things', lacks: ['Studs', 'Plates'] };
    const accepted = { ...missing('Waits for 2: Studs; Plates.'), parts };
    const { reasons } = standing('shoring_accepted', {
      recorded: { ...everything, shoring_accepted: accepted },
    });
    expect(reasons).toMatchObject([{ parts: { title: 'Waits for 2 things', lacks: ['Studs', 'Plates'] } }]);
  });

  it('no, while the temporary walls or the dust are not logged, or an inspector stopped the work', () => {
    const { reasons } = standing('wall_out', { stopped: 'Visit 3 stopped the work.' });
    expect(reasons.map(({ sentence }) => sentence)).toEqual([
      'Visit 3 stopped the work.',
      'Lead and asbestos looked for and dealt with: not logged yet.',
      'Temporary walls built: not logged yet.',
    ]);
    // Where it is logged, not the list that says the same again.
    expect(reasons[1]?.href).toMatch(/\/sequence\/steps\/hazards$/);
  });

  it('a record that says nothing of a step does not free it', () => {
    const { shoring_accepted: _taken, ...rest } = everything;
    expect(standing('wall_out', { entries: before, recorded: rest }).reasons).toEqual([
      { sentence: 'Temporary walls accepted: the record says nothing of it.', href: '' },
    ]);
  });

  it('an entry that was taken back holds it again', () => {
    const withdrawal = { reason: 'the other wall', byName: 'R. T.', at: new Date() };
    const entries = [logged('hazards', '2026-05-01'), logged('shoring', '2026-05-04', { withdrawal })];
    expect(standing('wall_out', { entries }).state).toBe('waits');
  });
});

describe('footings', () => {
  it('are no step where the set has none to pour', () => {
    expect(standing('pour', { guarded: [] }).state).toBe('not in this job');
    expect(standing('beam_in', { guarded: [], entries: [logged('wall_out', '2026-05-05')] }).state).toBe(
      'may start',
    );
    expect(standing('beam_in', { entries: [logged('wall_out', '2026-05-05')] }).reasons).toMatchObject([
      { sentence: 'Footings poured: not logged yet.' },
    ]);
  });
});

describe('out of order', () => {
  it('is what stands against it now', () => {
    expect(outOfOrder(step('shoring_out'), '2026-05-05', facts())).toEqual([
      'Packs, hangers and fasteners complete: not logged yet.',
    ]);
  });

  it('is what was done only after that day, too', () => {
    const given = facts({
      entries: [logged('hazards', '2026-05-01'), logged('shoring', '2026-05-06')],
      recorded: { ...everything, shoring_accepted: done(new Date('2026-05-09T15:00:00Z')) },
    });
    expect(outOfOrder(step('wall_out'), '2026-05-05', given)).toEqual([
      'Temporary walls built: only on May 6, 2026, after this.',
      'Temporary walls accepted: only after this day.',
    ]);
    expect(outOfOrder(step('wall_out'), '2026-05-09', given)).toEqual([]);
  });
});

describe('days', () => {
  it.each(['2026-02-30', '2026-13-01', '26-1-1', 'tomorrow', '', '2026-05-09T00:00'])('%s is none', (day) => {
    expect(daySchema.safeParse(day).success).toBe(false);
  });

  it('begin and end by the clock of the house', () => {
    const inHouse = 'America/Los_Angeles';
    expect(isToCome('2026-05-10', new Date('2026-05-10T06:59:00Z'), inHouse)).toBe(true);
    expect(isToCome('2026-05-10', new Date('2026-05-10T07:00:00Z'), inHouse)).toBe(false);
    expect(isAfterDay(new Date('2026-05-10T06:59:00Z'), '2026-05-09', inHouse)).toBe(false);
    expect(isAfterDay(new Date('2026-05-10T07:00:00Z'), '2026-05-09', inHouse)).toBe(true);
  });

  it('where nobody told the zone, have begun somewhere before they have here, and end somewhere after', () => {
    expect(isToCome('2026-05-10', new Date('2026-05-09T09:59:00Z'), UNTOLD_ZONE)).toBe(true);
    expect(isToCome('2026-05-10', new Date('2026-05-09T10:01:00Z'), UNTOLD_ZONE)).toBe(false);
    expect(isAfterDay(new Date('2026-05-10T11:59:00Z'), '2026-05-09', UNTOLD_ZONE)).toBe(false);
    expect(isAfterDay(new Date('2026-05-10T12:00:00Z'), '2026-05-09', UNTOLD_ZONE)).toBe(true);
  });
});

describe('planning', () => {
  const said = { plannedOn: '', who: '', notice: '', off: false };
  const plan = (steps: Record<string, Partial<typeof said>>, before = nothing, reason = '') =>
    changeSequence(before, {
      is: 'plan',
      reason,
      steps: Object.fromEntries(Object.entries(steps).map(([key, own]) => [key, { ...said, ...own }])),
    });

  it('keeps only what was planned, and moves a day only with a reason', () => {
    const first = plan({ wall_out: { plannedOn: '2026-05-09', notice: 'dust' }, dig: {} });
    expect(first).toMatchObject([{ key: 'wall_out', plannedOn: '2026-05-09', notice: 'dust' }]);
    const before = { number: 1, steps: first };
    expect(() => plan({ wall_out: { plannedOn: '2026-05-12' } }, before)).toThrow(Invalid);
    const second = plan({ wall_out: { plannedOn: '2026-05-12' } }, before, 'wrong plies');
    expect(movedDays(first, second)).toEqual([{ key: 'wall_out', from: '2026-05-09', to: '2026-05-12' }]);
  });

  it('refuses a day that is none at its box, and does not switch off what holds the house up', () => {
    expect(() => plan({ wall_out: { plannedOn: '2026-02-30' } })).toThrow(
      expect.objectContaining({ fields: { 'plannedOn.wall_out': 'There is no such day.' } }),
    );
    expect(plan({ shoring: { off: true, who: 'crew' } })).toMatchObject([{ key: 'shoring', off: false }]);
    expect(plan({ hazards: { off: true } })).toMatchObject([{ key: 'hazards', off: true }]);
  });

  it('puts a step of the contractor’s own where it was said, and lets what waits for it wait', () => {
    const add = {
      is: 'add',
      key: 'own-1',
      title: 'Cabinets down',
      after: 'shoring',
      heldStep: 'wall_out',
    } as const;
    const steps = changeSequence(nothing, add);
    const ordered = stepsOf({ number: 1, steps });
    const at = ordered.findIndex(({ key }) => key === 'own-1');
    expect(ordered[at - 1]!.key).toBe('shoring');
    const given = facts({
      steps: ordered,
      entries: [logged('hazards', '2026-05-01'), logged('shoring', '2026-05-04')],
    });
    expect(stepStandings(given).find((one) => one.step.key === 'wall_out')!.reasons).toMatchObject([
      { sentence: 'Cabinets down: not logged yet.' },
    ]);
    expect(() => changeSequence({ number: 1, steps }, { ...add, key: 'own-2' })).toThrow('of that name');
    expect(() => changeSequence(nothing, { ...add, after: 'nowhere' })).toThrow(Invalid);
    expect(() => changeSequence(nothing, { ...add, title: ' ' })).toThrow('Say what the step is.');
  });
});

describe('the owner’s days', () => {
  it('say what, when and why it moved, and announce what will be noticed; nobody is named', () => {
    const steps = changeSequence(nothing, {
      is: 'plan',
      reason: '',
      steps: {
        wall_out: { plannedOn: '2026-05-12', who: 'R. T.', notice: 'power off from 8 to 12', off: false },
        shoring: { plannedOn: '2026-05-04', who: 'R. T.', notice: 'noise', off: false },
      },
    });
    const shown = ownersDays(
      { number: 2, steps },
      [logged('shoring', '2026-05-05')],
      { wall_out: { from: '2026-05-09', reason: 'the yard sent the wrong plies' } },
      '2026-05-10',
    );
    expect(shown.days).toEqual([
      {
        day: '2026-05-05',
        words: 'Temporary supports are put in',
        dayWords: 'Tue, May 5, 2026',
        done: true,
        movedWords: '',
      },
      {
        day: '2026-05-12',
        words: 'The wall comes out',
        dayWords: 'Tue, May 12, 2026',
        done: false,
        movedWords: 'It was to be Sat, May 9, 2026. Why it moved: the yard sent the wrong plies',
      },
    ]);
    expect(shown.notices).toEqual([{ dayWords: 'Tue, May 12, 2026', words: 'power off from 8 to 12' }]);
    expect(JSON.stringify(shown)).not.toContain('R. T.');
  });
});

describe('the picture of the days', () => {
  it('is to scale, tells done, planned and out of order apart by shape, and escapes what people wrote', () => {
    const steps = stepsOf({
      number: 1,
      steps: changeSequence(nothing, {
        is: 'plan',
        reason: '',
        steps: { beam_in: { plannedOn: '2026-05-21', who: '', notice: '', off: false } },
      }),
    });
    const svg = timelineOf(
      stepStandings(
        facts({
          steps,
          recorded: {},
          entries: [
            logged('shoring', '2026-05-01'),
            logged('wall_out', '2026-05-11', { outOfOrder: ['<b>'] }),
          ],
        }),
      ),
      new Date('2026-05-11T12:00:00Z'),
      'America/Los_Angeles',
    );
    const [first, last] = [...svg.matchAll(/<circle cx="([\d.]+)"/g)].map(([, x]) => Number(x));
    const point = Number(/<path d="M([\d.]+) /.exec(svg)![1]);
    expect(point - first!).toBeCloseTo(last! - point, 1);
    expect(svg).toContain('Wall taken out: out of order, May 11, 2026');
    expect(svg).toContain('dw-fill--none');
    expect(svg).not.toContain('<b>');
  });

  it('is left out where no day is known', () => {
    expect(timelineOf(stepStandings(facts()), new Date(), 'UTC')).toBe('');
  });
});
