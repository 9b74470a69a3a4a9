import { describe, expect, test } from 'vitest';
import { qty } from '../../../src/engineering/trace/index.ts';
import { alongTheLoadPath, kindRegistry } from '../../../src/record/kinds/registry.ts';
import {
  movedGrounds,
  sameGrounds,
  staleItems,
  type GroundedItem,
  type GroundItem,
  type RecordedGround,
} from '../../../src/record/staleness/rules.ts';
import { testKinds } from '../support/kinds.ts';

const kinds = testKinds();

function ground(
  values: RecordedGround['values'],
  change: Partial<RecordedGround['on']> = {},
): RecordedGround {
  const on = {
    itemId: 'beam',
    kind: 'beam',
    key: 'beam',
    title: 'Beam',
    number: 1,
    hash: 'h',
    ...change,
  } as const;
  return { on, label: 'left reaction', values };
}

describe('movedGrounds', () => {
  test('says the figure that was and the one that is', () => {
    const reasons = movedGrounds(
      [ground({ demand: qty(4120, 'lb') })],
      [ground({ demand: qty(5310, 'lb') })],
    );
    expect(reasons.map((reason) => reason.sentence)).toEqual([
      'Beam, left reaction: demand was 4,120 lb, is 5,310 lb',
    ]);
    expect(reasons[0]?.on).toEqual({ itemId: 'beam', kind: 'beam', title: 'Beam' });
  });

  test('a newer version with equal figures moves nothing', () => {
    const was = [ground({ demand: qty(4120, 'lb'), species: 'hem-fir', plies: 3 })];
    const is = [
      ground({ demand: qty(4120, 'lb'), species: 'hem-fir', plies: 3 }, { number: 7, hash: 'other' }),
    ];
    expect(movedGrounds(was, is)).toEqual([]);
    expect(sameGrounds(was, is)).toBe(true);
  });

  test('the last bits of a figure move nothing; one part in a million does', () => {
    const was = [ground({ demand: qty(4120, 'lb') })];
    expect(sameGrounds(was, [ground({ demand: qty(4120 * (1 + 1e-12), 'lb') })])).toBe(true);
    expect(sameGrounds(was, [ground({ demand: qty(4120 * (1 + 1e-6), 'lb') })])).toBe(false);
  });

  test('two different figures never read alike', () => {
    const [reason] = movedGrounds(
      [ground({ demand: qty(4120.1, 'lb') })],
      [ground({ demand: qty(4120.2, 'lb') })],
    );
    expect(reason?.sentence).toBe('Beam, left reaction: demand was 4,120.1 lb, is 4,120.2 lb');
  });

  test('another unit, another word, a figure come or gone', () => {
    const sentences = (was: RecordedGround['values'], is: RecordedGround['values']) =>
      movedGrounds([ground(was)], [ground(is)]).map((reason) => reason.sentence);
    expect(sentences({ w: qty(1, 'plf') }, { w: qty(1, 'lb/in') })).toEqual([
      'Beam, left reaction: w was 1 plf, is 1 lb/in',
    ]);
    expect(sentences({ species: 'hem-fir' }, { species: 'DF-L' })).toEqual([
      'Beam, left reaction: species was hem-fir, is DF-L',
    ]);
    expect(sentences({}, { uplift: qty(10, 'lb') })).toEqual([
      'Beam, left reaction: uplift is 10 lb; there was none before',
    ]);
    expect(sentences({ uplift: qty(10, 'lb') }, {})).toEqual([
      'Beam, left reaction: uplift was 10 lb; there is none now',
    ]);
  });

  test('a ground come or gone', () => {
    expect(movedGrounds([], [ground({})])[0]?.sentence).toBe(
      'Beam, left reaction: is new and was not counted',
    );
    expect(movedGrounds([ground({})], [])[0]?.sentence).toBe('Beam, left reaction: is no longer there');
  });
});

/** One house: criteria 40 psf, a survey, a beam with a reaction, supports. */
function house(surveySpanIn: number, beamSpanIn: number, place = { projectId: 'p', openingId: 'o' }) {
  const item = (kind: GroundItem['kind'], content: unknown, openingId: string | null = place.openingId) => ({
    itemId: `${place.projectId} ${openingId ?? 'whole'} ${kind}`,
    projectId: place.projectId,
    openingId,
    kind,
    key: kind,
    title: kind,
    content,
  });
  const head = { number: 1, hash: 'h', outputs: {} };
  const reaction = qty(beamSpanIn * 10, 'lb');
  const criteria = { ...item('criteria', { livePsf: 40 }, null), ...head };
  const survey = { ...item('survey', { spanIn: surveySpanIn }), ...head };
  const beam = { ...item('beam', { plies: 3, depthIn: 9.5 }), ...head, outputs: { reaction } };
  const recorded = (on: GroundItem, label: string, values: RecordedGround['values']): RecordedGround => ({
    on: { itemId: on.itemId, kind: on.kind, key: on.key, title: on.title, number: 1, hash: 'h' },
    label,
    values,
  });
  const items: GroundedItem[] = [
    { ...item('support', { jacks: 2 }), restsOn: [recorded(beam, 'reaction', { demand: reaction })] },
    {
      ...beam,
      restsOn: [
        recorded(survey, 'opening', { span: qty(beamSpanIn, 'in') }),
        recorded(criteria, 'loads', { 'live load': qty(40, 'psf') }),
      ],
    },
    { ...survey, restsOn: [] },
    { ...criteria, restsOn: [] },
  ];
  return { items, grounds: [criteria, survey, beam] as GroundItem[] };
}

describe('staleItems', () => {
  test('nothing moved: nothing is stale', () => {
    const { items, grounds } = house(144, 144);
    expect(staleItems(kinds, items, grounds).size).toBe(0);
  });

  test('a longer span makes the beam stale, and by it the support, in whatever order they come', () => {
    const { items, grounds } = house(152, 144);
    for (const order of [items, [...items].reverse()]) {
      const stale = staleItems(kinds, order, grounds);
      expect([...stale.keys()].sort()).toEqual(['p o beam', 'p o support']);
      expect(stale.get('p o beam')?.map((reason) => reason.sentence)).toEqual([
        'survey, opening: span was 144 in, is 152 in',
      ]);
      expect(stale.get('p o support')?.map((reason) => reason.sentence)).toEqual([
        'beam is itself out of date',
      ]);
    }
  });

  test('other openings and other projects are left alone', () => {
    const one = house(152, 144);
    const neighbour = house(100, 100, { projectId: 'p', openingId: 'o2' });
    const elsewhere = house(90, 90, { projectId: 'q', openingId: 'o3' });
    const all = [one, neighbour, elsewhere];
    const stale = staleItems(
      kinds,
      all.flatMap((each) => each.items),
      all.flatMap((each) => each.grounds),
    );
    expect([...stale.keys()].sort()).toEqual(['p o beam', 'p o support']);
  });

  test('what can no longer be calculated is stale, with the engine’s sentence', () => {
    const { items, grounds } = house(144, 144);
    const withoutSurvey = grounds.filter((ground) => ground.kind !== 'survey');
    const stale = staleItems(
      kinds,
      items.filter((item) => item.kind !== 'survey'),
      withoutSurvey,
    );
    expect(stale.get('p o beam')?.[0]?.sentence).toBe(
      "It can't be calculated as things stand: Enter criteria and survey first.",
    );
  });
});

describe('the registry of kinds', () => {
  const [criteria, , beam, support] = kinds.all;

  test('grounds reach through others', () => {
    expect([...kinds.groundsOf('support')].sort()).toEqual(['beam', 'criteria', 'survey']);
    expect(kinds.rested).toEqual(['criteria', 'survey', 'beam']);
  });

  test('the load path puts each kind after what it rests on', () => {
    const path = alongTheLoadPath(kinds);
    for (const { kind, restsOnKinds } of kinds.all) {
      for (const under of restsOnKinds) expect(path.indexOf(under)).toBeLessThan(path.indexOf(kind));
    }
  });

  test('a kind twice, a kind that is not there, and a circle are refused at the start', () => {
    expect(() => kindRegistry('1', [criteria!, criteria!])).toThrow('twice');
    expect(() => kindRegistry('1', [support!])).toThrow('not defined');
    expect(() => kindRegistry('1', [{ ...beam!, restsOnKinds: ['support'] }, support!])).toThrow(
      'each other',
    );
  });
});
