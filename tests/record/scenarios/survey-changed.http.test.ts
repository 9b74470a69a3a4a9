import QRCode from 'qrcode';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoHangers, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { previewSet } from '../../../src/record/sets/service.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import { wordsOf } from '../schedule/house.ts';

/** Scenario 3 and 20: what moves under an approval, and what a paper of an older set says. */
let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.add('footing', 'right', 'Right footing', {
    ...demoFootings[1],
    pad: { widthIn: 30, lengthIn: 30, thicknessIn: 12 },
  });
  for (const { listing: _listing, ...hanger } of demoHangers) {
    await site.add('hanger', hanger.side, `Hangers ${hanger.side}`, hanger);
  }
  expect(await site.issue()).toBe(1);
});
afterAll(() => site.test.close());

const setNumber = (number: number) =>
  site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { openingId: site.openingId, number } });
const longer = {
  ...demoSurvey,
  strips: demoSurvey.strips.map((strip) =>
    strip.id === 'upper-floor' ? { ...strip, frontSpanIn: 152 } : strip,
  ),
};

describe('scenario 3: the beam is approved, and the survey’s span changes from 12 ft 0 in to 12 ft 8 in', () => {
  it('beam, hangers, supports and footing are out of date and say why; the set is not altered', async () => {
    const before = await setNumber(1);
    await site.change('Survey', longer);
    const words = wordsOf((await site.contractor.get(site.inOpening)).body);
    expect(words).toContain('Recalculate 9 items: what they rest on has moved.');
    expect(words).toMatch(/Hangers front : Survey, joists on the front face: .* was 96 lb, is 101.3 lb/);
    for (const title of ['Beam', 'Hangers front', 'Support left', 'Support right', 'Right footing']) {
      const item = wordsOf((await site.engineer.get(`${site.inProject}/items/${site.items[title]!}`)).body);
      expect(item, title).toContain('Out of date');
    }
    expect(await setNumber(1)).toEqual(before);
    const { content } = await previewSet(site.test.deps, site.actor(site.engineer, 'engineer'), {
      openingId: site.openingId,
    });
    expect(content.entries.map(({ itemId }) => itemId)).not.toContain(site.items.Beam);
  });

  it('worked out anew, the figures of what rests on the beam are told as was and is', async () => {
    const answer = await site.contractor.post(`${site.inProject}/items/${site.items.Beam!}/recalculation`);
    expect(answer.statusCode).toBeLessThan(400);
    for (const title of ['Support left', 'Support right', 'Right footing']) {
      const item = wordsOf((await site.engineer.get(`${site.inProject}/items/${site.items[title]!}`)).body);
      expect(item, title).toMatch(/Out of date/);
      expect(item, title).toMatch(/reaction was [\d,.]+ lb, is [\d,.]+ lb/);
    }
    await site.contractor.post(`${site.inOpening}/recalculation`);
    expect(await site.issue()).toBe(2);
  });
});

describe('scenario 20: a printed set 1 is checked after set 2', () => {
  /** Where each way of checking leads; the code is held against one made here of the address that it stands for. */
  async function address(by: string): Promise<string> {
    const { hash, id } = await setNumber(1);
    if (by === 'its number') return '/set-check?set=1';
    const path = `/set-check?set=${hash.slice(0, 12)}`;
    if (by === 'its code') {
      const code = (await site.inspector.get(`${site.inProject}/sets/${id}/code.svg`)).body;
      const stands = `${site.test.deps.config.publicUrl}${path}`;
      const options = { type: 'svg', margin: 2, errorCorrectionLevel: 'M' } as const;
      expect(code).toBe(await QRCode.toString(stands, options));
    }
    return path;
  }

  it.each([['its number'], ['its hash'], ['its code']])(
    'by %s: superseded, with what changed',
    async (by) => {
      const { body } = await site.inspector.get(await address(by));
      const words = wordsOf(body);
      expect(words).toMatch(/superseded/i);
      expect(words).toContain('Beam');
      expect(words).toContain('Record of review. Not a sealed document.');
    },
  );

  it('the newest is said to be in force, and both papers carry the disclaimer', async () => {
    const { hash, id } = await setNumber(2);
    const words = wordsOf((await site.inspector.get(`/set-check?set=${hash.slice(0, 12)}`)).body);
    expect(words).toMatch(/in force/i);
    for (const one of [id, (await setNumber(1)).id]) {
      const page = wordsOf((await site.inspector.get(`${site.inProject}/sets/${one}`)).body);
      expect(page).toContain('Record of review. Not a sealed document.');
    }
  });
});
