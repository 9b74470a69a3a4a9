import { describe, expect, it } from 'vitest';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import type { Service } from '../../../src/engineering/services/index.ts';
import { actProblem, serviceStanding, type ServiceActFact } from '../../../src/site/services/rules.ts';

const freezer = demoServices.find((one) => one.feeds === 'freezer')!;
const undecided: Service = { ...freezer, disposition: 'not decided' };
const act = (word: ServiceActFact['word'], content = freezer, versionNumber = 1): ServiceActFact => ({
  word,
  who: 'J. M., electrician',
  note: '',
  byName: 'R. T.',
  at: new Date(0),
  versionNumber,
  content,
});
const standing = (content: Service, ...acts: ServiceActFact[]) =>
  serviceStanding('Circuit 20', content, acts);

describe('where a service stands', () => {
  it('undecided, it holds the wall even when dead', () => {
    const found = standing(undecided, act('made_safe', undecided));
    expect(found.outOfTheWay).toBe(false);
    expect(found.holds).toContain('nobody has decided');
  });
  it('decided but live, it holds the wall', () => {
    expect(standing(freezer).holds).toContain('neither proved dead nor made up and kept live');
  });
  it('proved dead, or done after that, it is out of the way', () => {
    expect(standing(freezer, act('made_safe')).outOfTheWay).toBe(true);
    expect(standing(freezer, act('made_safe')).holds).toBe('');
    const done = standing(freezer, act('made_safe'), act('carried_out'), act('live_again'));
    expect([done.outOfTheWay, done.notProvedDead]).toEqual([true, '']);
  });
  it('a circuit done that was not proved dead holds the wall until it is', () => {
    for (const acts of [[act('carried_out')], [act('made_safe'), act('live_again'), act('carried_out')]]) {
      const found = standing(freezer, ...acts);
      expect(found.outOfTheWay).toBe(false);
      expect(found.carriedOut).not.toBeNull();
      expect(found.holds).toContain('Circuit 20: Logged as carried out by J. M., electrician');
      expect(found.holds).toContain('not as proved dead before or since');
      expect(standing(freezer, ...acts, act('made_safe')).outOfTheWay).toBe(true);
      expect(standing(freezer, ...acts, act('made_safe'), act('live_again')).outOfTheWay).toBe(true);
    }
  });
  it('a pipe that was taken out is out of the way', () => {
    const vent = demoServices.find((one) => one.what === 'pipe')!;
    const found = standing(vent, act('carried_out', vent));
    expect([found.outOfTheWay, found.notProvedDead]).toEqual([true, '']);
  });
  it('switched on again, it holds the wall again', () => {
    expect(standing(freezer, act('made_safe'), act('live_again')).outOfTheWay).toBe(false);
    expect(standing(freezer, act('made_safe'), act('live_again'), act('made_safe')).outOfTheWay).toBe(true);
  });
  it('work by an earlier plan does not count for another one', () => {
    const rerouted = { ...freezer, disposition: 're-routed' } as Service;
    const found = standing(rerouted, act('carried_out'), act('checked'));
    expect(found.carriedOut).toBeNull();
    expect(found.checked).toBeNull();
    expect(found.overtaken).toContain('Carried out as version 1 said: made up and kept live');
    expect(found.outOfTheWay).toBe(false);
  });
  it('a note more in the row changes no plan', () => {
    expect(standing({ ...freezer, note: 'behind the shelf' }, act('carried_out')).carriedOut).not.toBeNull();
  });
  it('checked counts after the work, not before', () => {
    expect(standing(freezer, act('checked'), act('carried_out')).checked).toBeNull();
    expect(standing(freezer, act('carried_out'), act('checked')).checked).not.toBeNull();
  });
});

describe('what may be logged', () => {
  it.each([
    ['made_safe', freezer, [], ''],
    ['made_safe', freezer, [act('made_safe')], 'already'],
    ['live_again', freezer, [], 'counts as live anyway'],
    ['live_again', freezer, [act('made_safe')], ''],
    ['carried_out', undecided, [], 'Write down first'],
    ['carried_out', freezer, [], ''],
    ['carried_out', freezer, [act('carried_out')], 'already'],
    ['checked', freezer, [], 'Nothing was carried out'],
    ['checked', freezer, [act('carried_out')], ''],
  ] as const)('%s (%#)', (word, content, acts, sentence) => {
    const problem = actProblem(word, content, standing(content, ...acts));
    if (sentence === '') expect(problem).toBe('');
    else expect(problem).toContain(sentence);
  });
});
