import { describe, expect, it } from 'vitest';
import { demoRows } from '../../../src/demo/cinder-ferry.ts';
import { pennyNail, type FasteningRow } from '../../../src/engineering/fasteners/index.ts';
import type { Hanger } from '../../../src/engineering/proposal/design.ts';
import {
  boxWords,
  listOf,
  materialsList,
  nailsPerPound,
  openingNeeds,
  SAWN_STOCK_IN,
  shoringPieces,
  stockLengthIn,
} from '../../../src/engineering/materials-list/index.ts';
import { Refusal } from '../../../src/engineering/trace/index.ts';
import { row } from '../fasteners/rows.ts';
import { beam, editions, footing, support } from '../layout/layout-fixtures.ts';
import { shoring, survey } from '../shoring/shoring-fixtures.ts';

const hanger: Hanger = {
  side: 'front',
  joistSize: '2x8',
  spacingIn: 16,
  nailCount: 10,
  nailDiameterIn: 0.148,
  nailLengthIn: 3,
};

const input = {
  survey: survey(),
  beam,
  supports: [support('left'), support('right')],
  footings: [footing('left'), footing('right')],
  shoring: shoring(),
  editions,
};

describe('the list of an opening', () => {
  const list = materialsList(input);
  const line = (start: string) => list.lines.find((entry) => entry.id.startsWith(start))!;

  it('beam: three plies of 11 ft 7 in from 12 ft stock, 73 lb each, for two persons', () => {
    const plies = line('beam.');
    expect(plies.goods).toEqual({
      kind: 'composite',
      class: 'LVL 2.0E',
      thicknessIn: 1.75,
      depthIn: 11.875,
      lengthIn: 144,
    });
    expect([plies.pieces, plies.lengthIn, plies.leastLengthIn, plies.order.count]).toEqual([3, 139, 139, 3]);
    expect(Math.round(plies.weightLbEach)).toBe(73);
    expect(plies.lift).toBe('two persons');
    expect(list.notices.some((notice) => notice.text.includes('The whole beam weighs about'))).toBe(true);
  });

  it('packs: six jacks of 90 in, two kings, a stick each, one more for waste', () => {
    const packs = line('packs.');
    expect(packs.pieces).toBe(8);
    expect(packs.cuts.filter((cut) => cut === 90)).toHaveLength(6);
    expect([packs.needed, packs.order.count, packs.order.stockLengthIn]).toEqual([8, 9, 96]);
    expect(packs.sources).toEqual(['support:left', 'support:right']);
  });

  it('concrete: two pads 30 x 30 x 12 in, a tenth over, 23 bags of 80 lb together', () => {
    // 2 · 6.25 ft³ · 1.1 ÷ 0.6 = 22.9; without the tenth 20.8.
    const concrete = line('footings.');
    expect([concrete.pieces, concrete.needed, concrete.order.count, concrete.order.unit]).toEqual([
      2,
      21,
      23,
      'bag',
    ]);
    expect(concrete.order.volumeFt3).toBeCloseTo(13.75, 9);
  });

  it('shoring: studs and plates of both walls, a foot past the beam at either end', () => {
    const pieces = shoringPieces(shoring(), 139, 97.125);
    // 163 in at 16 in: 11 studs and two more, twice; 97.125 less three plates.
    expect(pieces.studsIn).toHaveLength(26);
    expect(pieces.studsIn[0]).toBeCloseTo(92.625, 9);
    // Three plates and one row of bracing, twice.
    expect(pieces.longIn.filter((piece) => piece === 163)).toHaveLength(8);
    expect(shoringPieces(shoring({ storeysShored: 2 }), 139, 97.125).studsIn).toHaveLength(52);
    const cut = list.lines.filter((entry) => entry.steps[0] === 'shoring').flatMap((entry) => entry.cuts);
    expect(cut).toHaveLength(26 + pieces.longIn.length);
  });

  it('total is the sum, each line its count times one', () => {
    expect(list.totalWeightLb).toBeCloseTo(
      list.lines.reduce((sum, entry) => sum + entry.order.count * entry.weightLbEach, 0),
      6,
    );
  });

  it('steel comes cut to length', () => {
    const steel = materialsList({
      survey: survey(),
      beam: { ...beam, member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 } },
      supports: [],
      footings: [],
      editions,
    });
    expect(steel.lines).toHaveLength(1);
    expect(steel.lines[0]!.order.stockLengthIn).toBe(139);
    expect(steel.totalWeightLb).toBeCloseTo((18 * 139) / 12, 9);
  });

  it('a partial set without a beam lists what does not wait for it', () => {
    const { beam: _beam, ...rest } = input;
    const partial = materialsList(rest);
    expect(new Set(partial.lines.flatMap((entry) => entry.steps))).toEqual(new Set(['shoring', 'footings']));
  });

  it('two openings in one list share sticks and never need more of them', () => {
    const needs = openingNeeds(input);
    const both = listOf([needs, needs]);
    const sticks = (of: typeof list) => of.cuttings.reduce((sum, group) => sum + group.cutting.boughtIn, 0);
    expect(sticks(both)).toBeLessThanOrEqual(2 * sticks(list));
    const plies = both.lines.filter((entry) => entry.id.startsWith('beam.'));
    expect(plies.map((entry) => entry.pieces)).toEqual([6]);
    expect(new Set(both.lines.map((entry) => entry.id)).size).toBe(both.lines.length);
  });

  // Stud is graded for studs up to 10 ft (NLGA and WWPA grading rules, from memory).
  it('orders no Stud longer than 10 ft, and says which grade to change where a piece is', () => {
    const studs = materialsList({ ...input, shoring: { ...shoring(), grade: 'Stud', species: 'SPF' } });
    const bought = studs.lines.filter(({ goods }) => goods.kind === 'sawn' && goods.grade === 'Stud');
    expect(bought.length).toBeGreaterThan(0);
    for (const { order, goods } of bought) {
      expect(order.stockLengthIn).toBeLessThanOrEqual(120);
      expect(goods).toMatchObject({ size: '2x4' });
    }
    // The 26 studs; plates, bracing rows and diagonals are longer than 10 ft.
    expect(bought.flatMap(({ cuts }) => cuts)).toHaveLength(26);
    const { longIn } = shoringPieces(shoring(), 139, 97.125);
    expect(studs.unlisted).toMatchObject([{ step: 'shoring', sources: ['shoring'] }]);
    expect(studs.unlisted[0]?.text).toContain(`${longIn.length} pieces of up to 13'-7" are not listed`);
    expect(studs.unlisted[0]?.text).toContain('“Grade” of the studs in the shoring plan');
    expect(list.unlisted).toEqual([]);
    expect(list.lines.some(({ order }) => (order.stockLengthIn ?? 0) > 120)).toBe(true);
  });

  it('lists no beam of Stud longer than 10 ft', () => {
    const member = { kind: 'sawn', species: 'SPF', grade: 'Stud', size: '2x6', plies: 2 } as const;
    const { unlisted, lines } = materialsList({
      survey: survey(),
      beam: { ...beam, member },
      supports: [],
      footings: [],
      editions,
    });
    expect(lines).toEqual([]);
    expect(unlisted[0]?.text).toContain(`2 pieces of up to 11'-7" are not listed`);
  });

  it('refuses a piece that no stock gives', () => {
    expect(() => stockLengthIn(241, SAWN_STOCK_IN)).toThrow(Refusal);
    expect(stockLengthIn(144, SAWN_STOCK_IN)).toBe(144);
    expect(stockLengthIn(144.1, SAWN_STOCK_IN)).toBe(168);
  });
});

describe('fasteners and hangers', () => {
  it('counts a row as often as its joint occurs', () => {
    const rows = demoRows.map(({ key, content }) => ({ key, row: content }));
    const { fasteners } = openingNeeds({ ...input, rows });
    const count = (key: string) => fasteners.find((need) => need.sources[0] === `fastening:${key}`)!;
    // 136 in less twice 2.5 in at 12 in: 11 in a row and one more, two rows, two faces between three plies.
    expect(count('N1')).toMatchObject({ step: 'beam', count: 11 * 2 * 2 });
    // 95 in less twice 3 in at 16 in: 6 in a row, three faces in a pack of three jacks and a king, two packs.
    expect(count('N4')).toMatchObject({ step: 'packs', count: 6 * 3 * 2 });
    expect(count('N6')).toMatchObject({ step: 'beam', count: 4 * 2 });
    expect(count('N6').reckoning).toBe('N6: 4 in the pattern × 2 ends');
  });

  it('counts the row of one end once, and the outer face alone where the jacks have a row of their own', () => {
    const nail = pennyNail('common', '16d');
    const pattern = {
      kind: 'count',
      count: 4,
      rows: 2,
      spacingIn: 1.5,
      rowSpacingIn: 1,
      staggered: false,
    } as const;
    const at = (id: string, joint: FasteningRow['joint'], where: string) =>
      ({ key: id, row: row({ id, joint, where, fastener: nail, pattern }) }) as const;
    const { fasteners } = openingNeeds({
      ...input,
      rows: [
        at('pack-plies-left', 'stud pack plies', 'Left pack, jacks to one another'),
        at('jack-to-king-left', 'jack to king', 'Left pack, outer jack to king'),
        at('beam-seat-left', 'beam seat', 'Left end of beam on the jacks'),
        at('typed', 'sole plate anchor', 'Right pack, sole plate'),
      ],
    });
    expect(fasteners.map(({ reckoning, count }) => [reckoning, count])).toEqual([
      ['pack-plies-left: 4 in the pattern', 4],
      ['jack-to-king-left: 4 in the pattern', 4],
      ['beam-seat-left: 4 in the pattern', 4],
      ['typed: 4 in the pattern', 4],
    ]);
  });

  it('nails every temporary stud at both its ends', () => {
    const nail = pennyNail('common', '16d');
    const pattern = {
      kind: 'count',
      count: 2,
      rows: 2,
      spacingIn: 1,
      rowSpacingIn: 2,
      staggered: false,
    } as const;
    const needs = openingNeeds({
      ...input,
      rows: [{ key: 'N1', row: row({ id: 'shoring-studs', joint: 'shoring', fastener: nail, pattern }) }],
    });
    const studIn = input.survey.wallHeightIn - (input.shoring.topPlates + 1) * 1.5;
    const standing = needs.lumber
      .filter((need) => need.step === 'shoring')
      .flatMap((need) => need.cutsIn)
      .filter((cut) => Math.abs(cut - studIn) < 1e-9).length;
    expect(standing).toBeGreaterThan(20);
    expect(needs.fasteners[0]?.count).toBe(2 * standing * 2);
  });

  it('hangs a hanger at each joist, with its nails, and buys the nails by the pound with a tenth over', () => {
    const list = materialsList({ ...input, hangers: [{ key: 'H1', hanger }] });
    // 139 in at 16 in: 8 whole spaces, 9 joists.
    const hangers = list.lines.find((line) => line.goods.kind === 'hanger')!;
    expect([hangers.order.count, hangers.order.unit]).toEqual([9, 'each']);
    const nails = list.lines.find((line) => line.goods.kind === 'nail')!;
    expect(nails.pieces).toBe(90);
    // 99 nails at 68 to the pound.
    expect([nails.order.count, nails.order.boxes]).toEqual([2, '2 boxes of 1 lb']);
  });

  it('one box serves every row with the same nail, and every step that waits for it', () => {
    const nail = pennyNail('common', '16d');
    const rows = [
      { key: 'N1', row: row({ joint: 'beam plies', fastener: nail }) },
      { key: 'N2', row: row({ joint: 'king to plate', fastener: nail }) },
    ];
    const lines = materialsList({ ...input, rows }).lines.filter((line) => line.goods.kind === 'nail');
    expect(lines).toHaveLength(1);
    expect(lines[0]!.steps).toEqual(['packs', 'beam']);
  });

  // Nails to the pound as federal specification FF-N-105 and older handbooks print them (from memory).
  it.each([
    ['common', '8d', 106],
    ['common', '10d', 69],
    ['common', '16d', 49],
    ['common', '20d', 31],
    ['box', '10d', 94],
    ['box', '16d', 71],
  ] as const)('%s %s: about %d to the pound', (style, penny, printed) => {
    const { diameterIn, lengthIn } = pennyNail(style, penny);
    const counted = nailsPerPound(diameterIn, lengthIn);
    expect(Math.abs(counted / printed - 1)).toBeLessThan(0.05);
  });

  it('puts pounds into boxes', () => {
    expect(boxWords(7)).toBe('1 box of 5 lb and 2 boxes of 1 lb');
    expect(boxWords(0.2)).toBe('1 box of 1 lb');
    expect(boxWords(81)).toBe('1 box of 50 lb, 1 box of 25 lb, 1 box of 5 lb and 1 box of 1 lb');
  });
});
