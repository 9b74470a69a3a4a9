import { describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoRows, demoSupports, demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { readRecords } from '../../src/engineering/fasteners/schedule/csv-text.ts';
import type { Goods } from '../../src/engineering/materials-list/index.ts';
import { toldTo } from '../../src/notify/rules/told.ts';
import {
  blockedSentences,
  holdAgainst,
  lineStandings,
  materialOnSite,
  neededWords,
} from '../../src/site/deliveries/rules.ts';
import { withGoods } from '../../src/site/deliveries/substitute.ts';
import { listed } from '../../src/site/materials/approved.ts';
import { materialsCsv } from '../../src/site/materials/csv.ts';

const items = [
  { kind: 'criteria' as const, key: 'criteria', content: demoCriteria },
  { kind: 'survey' as const, key: 'survey', content: demoSurvey },
  { kind: 'beam' as const, key: 'beam', content: demoBeam },
  ...demoSupports.map((content) => ({ kind: 'support' as const, key: content.end, content })),
  ...demoRows.map(({ key, content }) => ({ kind: 'fastening' as const, key, content })),
];
const { lines } = listed(items).list;
const beam = lines.find((line) => line.id === 'beam.composite')!;
const arrived = (goods: Goods, count: number, withdrawn = false, lineId = beam.id) => ({
  deliveryLineId: `${lineId} ${count}`,
  lineId,
  goods,
  count,
  withdrawn,
});
const standingOf = (delivered: ReturnType<typeof arrived>[]) =>
  lineStandings(lines, holdAgainst(lines, delivered), []).find((one) => one.line.id === beam.id)!;
const weaker: Goods = { ...beam.goods, class: 'LVL 1.9E' } as Goods;

describe('a delivery against the list', () => {
  it('two of three plies are short, and say so', () => {
    const standing = standingOf([arrived(beam.goods, 2)]);
    expect(standing.state).toBe('short');
    expect(blockedSentences([standing], 2)).toEqual([
      'Beam plies short (2 of 3): opening 2 can’t get its beam; shoring stays.',
    ]);
    expect(standingOf([arrived(beam.goods, 2), arrived(beam.goods, 1)]).state).toBe('arrived');
  });

  it('what is needed by weight is never said to be here while some of it is short', () => {
    const nails = lines.find((line) => line.goods.kind === 'nail')!;
    const line = { ...nails, needed: 5.04 };
    const [standing] = lineStandings(
      [line],
      holdAgainst([line], [arrived(line.goods, 5, false, line.id)]),
      [],
    );
    expect(standing!.state).toBe('short');
    expect(blockedSentences([standing!], 1)[0]).toContain('short (5 of 5.1)');
    expect([5, 5.1, 0.02, 24].map(neededWords)).toEqual(['5', '5.1', '0.1', '24']);
  });

  it('weaker plies count for nothing, and neither does what went back', () => {
    const wrong = standingOf([arrived(weaker, 3)]);
    expect([wrong.state, wrong.arrived, wrong.wrong.length]).toEqual(['wrong', 0, 1]);
    expect(standingOf([arrived(beam.goods, 3, true)]).state).toBe('to order');
    // Two right ones do not make the wrong third one right.
    expect(standingOf([arrived(beam.goods, 2), arrived(weaker, 1)]).state).toBe('wrong');
  });

  it('counts for the line it matches, whichever it was written under', () => {
    const [held] = holdAgainst(lines, [arrived(beam.goods, 3, false, 'packs.gone')]);
    expect(held!.line!.id).toBe(beam.id);
    expect(held!.differences).toEqual([]);
    const concrete: Goods = { kind: 'concrete', strengthPsi: 2500 };
    expect(holdAgainst(lines, [arrived(concrete, 9, false, 'footings.x')])[0]!.differences).toEqual([
      'The set in force does not call for concrete, 2500 psi.',
    ]);
  });

  it('a step has its material once every line of it is here', () => {
    const all = lines.map((line) => arrived(line.goods, line.order.count, false, line.id));
    const standings = lineStandings(lines, holdAgainst(lines, all), []);
    for (const step of ['packs', 'beam'] as const)
      expect(materialOnSite(standings, step, 1)).toEqual({ onSite: true, reasons: [] });
    const none = materialOnSite(lineStandings(lines, [], []), 'beam', 1);
    expect(none.onSite).toBe(false);
    expect(none.reasons).toHaveLength(1);
    expect(none.reasons[0]).toMatch(
      /^Beam plies\b.* missing: opening 1 can’t get its beam; shoring stays\.$/,
    );
    // The packs are not held by the beam's plies.
    const packs = materialOnSite(lineStandings(lines, [], []), 'packs', 1);
    expect(packs.reasons.some((reason) => reason.includes('plies'))).toBe(false);
  });
});

describe('what the yard offers, in the design', () => {
  it('changes the member and keeps the plies; a measured size within a tape’s reach is the size called for', () => {
    const measured: Goods = { ...weaker, thicknessIn: 1.8, depthIn: 9.45 } as Goods;
    expect(withGoods('beam', demoBeam, measured)).toEqual({
      ...demoBeam,
      member: { kind: 'composite', class: 'LVL 1.9E', thicknessIn: 1.75, depthIn: 9.5, plies: 3 },
    });
  });

  it('has no place where it can’t be', () => {
    const nail: Goods = { kind: 'nail', style: 'box', diameterIn: 0.128, lengthIn: 3 };
    expect(withGoods('beam', demoBeam, nail)).toBeNull();
    expect(withGoods('survey', demoSurvey, weaker)).toBeNull();
    expect(withGoods('fastening', demoRows[0]!.content, nail)).toMatchObject({ fastener: nail });
  });
});

describe('what leaves the program', () => {
  it('makes a formula in a listing harmless in the file', () => {
    const hanger = {
      side: 'front',
      joistSize: '2x8',
      spacingIn: 16,
      nailCount: 10,
      nailDiameterIn: 0.148,
      nailLengthIn: 3,
      listing: {
        report: '=HYPERLINK("http://evil.example")',
        downLb: 1000,
        upLb: 0,
        nailsRequired: 10,
        nailDiameterIn: 0.148,
        nailLengthIn: 3,
        shortNailsAllowed: false,
      },
    };
    const { list } = listed([...items, { kind: 'hanger', key: '@H1', content: hanger }]);
    const { records } = readRecords(materialsCsv(list));
    expect(records.flat().some((cell) => cell.includes('HYPERLINK'))).toBe(true);
    for (const cell of records.flat()) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  });

  it('tells the engineer of a mismatch, and nobody of a match', () => {
    const payload = {
      deliveryLineId: 'l',
      deliveryId: 'd',
      clientKey: 'k',
      setId: 's',
      lineId: beam.id,
      calledFor: '{}',
      delivered: '{}',
      count: 3,
      offGround: true,
      covered: true,
      differences: '["Called for LVL 2.0E; LVL 1.9E arrived."]',
      note: '',
    };
    const facts = { projectId: 'p', actorName: 'R. T.', openingName: 'Den' } as Parameters<typeof toldTo>[3];
    expect(toldTo('engineer', 'delivery.mismatched', payload, facts)).toMatchObject({
      line: expect.stringContaining('LVL 1.9E arrived') as string,
      path: '/projects/p/deliveries/d',
    });
    expect(toldTo('owner', 'delivery.mismatched', payload, facts)).toBeNull();
    expect(toldTo('engineer', 'delivery.matched', payload, facts)).toBeNull();
  });
});
