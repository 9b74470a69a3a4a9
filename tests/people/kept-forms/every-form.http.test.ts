import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings } from '../../../src/demo/cinder-ferry.ts';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import { askQuestion } from '../../../src/record/questions/service.ts';
import { boxesOf, wordsOf } from '../../record/schedule/house.ts';
import { buildSite, type Site } from '../../inspection/support/site.ts';
import type { Client } from '../../support/app.ts';
import { testPdf } from '../../support/test-files.ts';
import { nextOf, whileEnded } from './session.ts';

/**
 * Every form in which somebody writes, sent after the session had ended: it comes back filled on the page that it
 * stands on, to the same person, and nothing was done with it. Everything here is without script. Signing in again is
 * in the tests beside this one; here, where it would be slowed down, the session is put back.
 */
let site: Site;
let where: Readonly<Record<string, string>>;
beforeAll(async () => {
  site = await buildSite();
  const { contractor, engineer, inspector, owner, inProject, inOpening, test } = site;
  const { prisma } = test.deps;
  await site.add('service', 'S1', 'Circuit', demoServices[0]);
  await site.issue();
  await askQuestion(test.deps, site.actor(engineer, 'engineer'), {
    itemId: site.items.Beam!,
    text: 'Which species?',
  });
  const begun = await inspector.post(`${inOpening}/visits`, { kind: 'framing' });
  const visit = String(begun.headers.location);
  const [wrong] = await prisma.check.findMany({
    where: { visitKind: 'framing' },
    orderBy: { ordinal: 'asc' },
  });
  await inspector.upload(
    `${visit}/findings`,
    { checkId: wrong!.id, clientKey: randomUUID(), result: 'correction', reason: 'Short nails' },
    [],
  );
  const finding = await prisma.finding.findFirstOrThrow();
  const truck = await contractor.post(`${inOpening}/deliveries`, { yard: 'The yard' });
  await owner.post(`${inOpening}/owner-words`, { text: 'May I sleep here?' });
  await contractor.upload(
    `${inProject}/attachments`,
    { subject: 'opening', subjectId: site.openingId, caption: 'Plan', back: inOpening },
    [{ field: 'file', ...testPdf() }],
  );
  const file = await prisma.attachment.findFirstOrThrow();
  await contractor.post(`${inOpening}/salvage`, { what: 'Oak flooring', howMany: '40 sq ft' });
  const salvage = await prisma.salvageLine.findFirstOrThrow();
  const thread = await prisma.question.findFirstOrThrow({ where: { text: 'Which species?' } });
  where = {
    visit,
    finding: finding.id,
    delivery: String(truck.headers.location),
    sheet: `${inProject}/attachments/${file.id}`,
    thread: thread.id,
    salvage: salvage.id,
  };
  // Something to hand over, and a set that leaves it open.
  await site.add('footing', 'right', 'Right footing', demoFootings[1]);
});
afterAll(() => site.test.close());

interface Written {
  readonly who: 'contractor' | 'engineer' | 'inspector' | 'owner';
  /** The page that the form stands on, and the address that it is sent to. */
  readonly page: () => string;
  readonly action: () => string;
  readonly boxes: Readonly<Record<string, string>>;
  /** Sent as a form with files. */
  readonly streamed?: true;
}

const item = (title: string) => `${site.inProject}/items/${site.items[title]!}`;
const written: Readonly<Record<string, Written>> = {
  'the survey': {
    who: 'contractor',
    page: () => `${item('Survey')}/edit`,
    action: () => `${item('Survey')}/versions`,
    boxes: { wallLengthIn: `14'-4"`, _reason: 'Measured <again>' },
  },
  'a new item': {
    who: 'contractor',
    page: () => `${site.inProject}/items/new?kind=footing&opening=${site.openingId}`,
    action: () => `${site.inProject}/items`,
    boxes: { _title: 'Left footing, cored', _key: 'left' },
  },
  'a new service in the wall': {
    who: 'contractor',
    page: () => `${site.inProject}/items/new?kind=service&opening=${site.openingId}`,
    action: () => `${site.inProject}/items`,
    boxes: { panelLabel: 'Den, north wall' },
  },
  'a question': {
    who: 'contractor',
    page: () => item('Beam'),
    action: () => `${item('Beam')}/questions`,
    boxes: { text: 'Hem-fir or DF-L?' },
  },
  'an answer': {
    who: 'contractor',
    page: () => item('Beam'),
    action: () => `${site.inProject}/questions/${where.thread!}/answers`,
    boxes: { text: 'It is hem-fir, by the stamp' },
  },
  'the reason of a withdrawal': {
    who: 'engineer',
    page: () => item('Support left'),
    action: () => `${site.inProject}/marks`,
    boxes: { reason: 'Looked at the wrong sheet' },
  },
  'the note of a set': {
    who: 'engineer',
    page: () => `${site.inOpening}/sets/new`,
    action: () => `${site.inOpening}/sets`,
    boxes: { note: 'The fastening alone' },
  },
  'a finding': {
    who: 'inspector',
    page: () => where.visit!,
    action: () => `${where.visit!}/findings`,
    boxes: { reason: 'Two nails are missing', location: 'left end, rear face' },
    streamed: true,
  },
  'the closing of a visit': {
    who: 'inspector',
    page: () => where.visit!,
    action: () => `${where.visit!}/closing`,
    boxes: {
      portion: 'Left of the stair',
      summary: 'Two corrections, the rest is in order',
      signedName: 'I. S.',
    },
  },
  'the answer to a correction': {
    who: 'contractor',
    page: () => `${site.inOpening}/checklist`,
    action: () => `${site.inProject}/findings/${where.finding!}/answers`,
    boxes: { 'note.FINDING': 'Driven anew, both rows' },
    streamed: true,
  },
  'the contractor’s own look': {
    who: 'contractor',
    page: () => `${site.inOpening}/self-check/framing`,
    action: () => `${site.inOpening}/self-check/framing`,
    boxes: { note: 'The rear hangers are missing' },
  },
  'a call for an inspection': {
    who: 'contractor',
    page: () => `${site.inOpening}/self-check/framing`,
    action: () => `${site.inOpening}/self-check/framing/call`,
    boxes: { note: 'Somebody is there from seven' },
  },
  'an order': {
    who: 'contractor',
    page: () => `${site.inOpening}/deliveries`,
    action: () => `${site.inOpening}/orders`,
    boxes: { yard: 'The other yard', note: 'Before Friday, please' },
  },
  'a truck': {
    who: 'contractor',
    page: () => `${site.inOpening}/deliveries`,
    action: () => `${site.inOpening}/deliveries`,
    boxes: { yard: 'The third yard' },
  },
  'a line of a delivery': {
    who: 'contractor',
    page: () => where.delivery!,
    action: () => `${where.delivery!}/lines`,
    boxes: { 'l0.note': 'Stamp half washed off', 'l0.count': '7' },
    streamed: true,
  },
  'work on a service': {
    who: 'contractor',
    page: () => `${site.inProject}/services/${site.items.Circuit!}`,
    action: () => `${site.inProject}/services/${site.items.Circuit!}/acts`,
    boxes: { who: 'J. M., electrician', note: 'Lock hangs at the panel' },
  },
  'a word of the owner': {
    who: 'owner',
    page: () => `${site.inOpening}/progress`,
    action: () => `${site.inOpening}/owner-words`,
    boxes: { text: 'When is the water off?' },
  },
  'a step of the order of work': {
    who: 'contractor',
    page: () => `${site.inOpening}/sequence/steps/wall_out`,
    action: () => `${site.inOpening}/sequence/steps/wall_out`,
    boxes: { who: 'Two of the crew', note: 'Left half only, so far' },
  },
  'what moved the days': {
    who: 'contractor',
    page: () => `${site.inOpening}/sequence/plan`,
    action: () => `${site.inOpening}/sequence/plan`,
    boxes: { reason: 'The yard delivered the wrong plies' },
  },
  'a step of one’s own': {
    who: 'contractor',
    page: () => `${site.inOpening}/sequence/plan`,
    action: () => `${site.inOpening}/sequence/plan`,
    boxes: { title: 'Cabinets taken down' },
  },
  'something to be used again': {
    who: 'contractor',
    page: () => `${site.inOpening}/salvage`,
    action: () => `${site.inOpening}/salvage`,
    boxes: { what: 'Oak trim', keptAt: 'Garage, on blocks' },
  },
  'the owner’s note on it': {
    who: 'owner',
    page: () => `${site.inOpening}/salvage`,
    action: () => `${site.inProject}/salvage/${where.salvage!}/decision`,
    boxes: { note: 'For the neighbour, please' },
  },
  'for whom a link of the family is': {
    who: 'owner',
    page: () => `${site.inOpening}/progress`,
    action: () => `${site.inOpening}/family-links`,
    boxes: { label: 'My sister' },
  },
  'a note on a drawing': {
    who: 'engineer',
    page: () => `${where.sheet!}/sheet`,
    action: () => `${where.sheet!}/notes`,
    boxes: { words: 'The post stands here', leftPercent: '12.5', topPercent: '40' },
  },
  'a check of one’s own': {
    who: 'engineer',
    page: () => `${site.inProject}/inspections`,
    action: () => `${site.inProject}/inspections`,
    boxes: {
      title: 'Draft curtain',
      criterion: 'Whole at the stair',
      clause: 'Town code 12-4',
      howToLook: 'From below',
    },
  },
  'the details of a project': {
    who: 'contractor',
    page: () => `${site.inProject}/edit`,
    action: () => `${site.inProject}/edit`,
    boxes: { name: 'Den and box room', permitNumber: 'BP-70' },
  },
  'a new project': {
    who: 'contractor',
    page: () => '/projects/new',
    action: () => '/projects',
    boxes: { name: 'Another house', address: '1 Quarry Road' },
  },
  'the name of an opening': {
    who: 'contractor',
    page: () => site.inProject,
    action: () => `${site.inProject}/openings`,
    boxes: { name: 'Box room wall' },
  },
  'a note to the engineer': {
    who: 'contractor',
    page: () => site.inOpening,
    action: () => `${site.inOpening}/submissions`,
    boxes: { note: 'The wall is an inch longer' },
  },
  'an invitation': {
    who: 'contractor',
    page: () => `${site.inProject}/people`,
    action: () => `${site.inProject}/invitations`,
    boxes: { label: 'The second engineer', email: 'second@example.org' },
  },
  'the name of a token': {
    who: 'engineer',
    page: () => '/account/tokens',
    action: () => '/account/tokens',
    boxes: { name: 'takeoff sheet' },
  },
  'the address of a webhook': {
    who: 'engineer',
    page: () => `${site.inProject}/webhooks`,
    action: () => `${site.inProject}/webhooks`,
    boxes: { url: 'https://example.org/told' },
  },
  'a price list': {
    who: 'contractor',
    page: () => `${site.inOpening}/candidates`,
    action: () => `${site.inOpening}/candidates/prices`,
    boxes: { 'price.0': '7.35' },
  },
  'why proposed rows are taken over': {
    who: 'contractor',
    page: () => `${site.inOpening}/schedule/proposal`,
    action: () => `${site.inOpening}/schedule/proposal`,
    boxes: { _reason: 'As worked out for three jacks' },
  },
};

/** Each form of a page that is sent to an address, as its boxes. */
function formsTo(body: string, action: string): Record<string, string>[] {
  return [...body.matchAll(/<form\b([^>]*)>([^]*?)<\/form>/g)]
    .filter(([, tag = '']) => tag.includes('method="post"') && tag.includes(`action="${action}"`))
    .map(([form]) => boxesOf(form));
}

describe('a form sent after its session ended', () => {
  it.each(Object.keys(written))('%s comes back filled, and nothing was done', async (name) => {
    const { who, page, action, boxes, streamed } = written[name]!;
    const client: Client = site[who];
    const typed = Object.fromEntries(
      Object.entries(boxes).map(([box, text]) => [box.replace('FINDING', where.finding!), text]),
    );
    const has = (form: Record<string, string>) =>
      Object.entries(typed).every(([box, text]) => form[box] === text);
    const before = await client.get(page());
    expect(before.statusCode).toBe(200);
    const forms = formsTo(before.body, action());
    const form = forms.find((one) => Object.keys(typed).every((box) => box in one));
    expect(form, `no form with these boxes is sent to ${action()}`).toBeDefined();
    expect(forms.filter(has)).toEqual([]);
    const events = await site.test.deps.prisma.event.count();

    const sent = { ...form, ...typed };
    const answer = await whileEnded(site.test, client, () =>
      streamed ? client.upload(action(), sent, []) : client.post(action(), sent),
    );
    expect(answer.statusCode).toBe(303);
    const next = nextOf(answer.headers.location);
    expect(next).toMatch(/[?&]kept=[0-9a-f]{16}/);
    const again = await client.get(next);
    expect(again.statusCode).toBe(200);
    expect(wordsOf(again.body)).toContain('is back in the form. Nothing was recorded yet');
    // In the one form that it was written in.
    expect(formsTo(again.body, action()).filter(has)).toHaveLength(1);
    expect(await site.test.deps.prisma.event.count()).toBe(events);
    expect(await site.test.deps.prisma.keptForm.count()).toBe(0);
  });

  it('whose form has gone meanwhile still has its words on the page', async () => {
    const { engineer, contractor } = site;
    const [form] = formsTo(
      (await contractor.get(item('Beam'))).body,
      `${site.inProject}/questions/${where.thread!}/answers`,
    );
    const words = 'It is hem-fir, by the stamp';
    const answer = await whileEnded(site.test, contractor, () =>
      contractor.post(`${site.inProject}/questions/${where.thread!}/answers`, { ...form, text: words }),
    );
    const closed = await engineer.post(`${site.inProject}/questions/${where.thread!}/answers`, {
      do: 'close',
      text: '',
      back: item('Beam'),
    });
    expect(closed.statusCode).toBe(303);
    const { body } = await contractor.get(nextOf(answer.headers.location));
    expect(formsTo(body, `${site.inProject}/questions/${where.thread!}/answers`)).toEqual([]);
    expect(wordsOf(body)).toContain(words);
  });
});

describe('a form that is refused where its page can’t say so', () => {
  it('comes back filled from the page that says why', async () => {
    const { contractor } = site;
    const action = `${site.inProject}/questions/${where.thread!}/answers`;
    // Closed above: an answer comes too late.
    const owner = boxesOf((await contractor.get(item('Beam'))).body)._owner!;
    const text = 'It is hem-fir, by the stamp';
    const refused = await contractor.post(action, { _owner: owner, text, back: item('Beam') });
    expect(refused.statusCode).toBe(422);
    const link = /href="([^"]+)">Back to the form, filled/.exec(refused.body)?.[1] ?? '';
    expect(link).toMatch(/[?&]kept=[0-9a-f]{16}/);
    expect(wordsOf((await contractor.get(link)).body)).toContain(text);
    expect(await site.test.deps.prisma.keptForm.count()).toBe(0);
  });

  it('comes back where its token is of a session before, and only to whom it was shown', async () => {
    const { contractor, engineer } = site;
    const action = `${item('Beam')}/questions`;
    const owner = boxesOf((await contractor.get(item('Beam'))).body)._owner!;
    const old = { _csrf: 'of-yesterday', _owner: owner, text: 'Which nails at the rear face?' };
    const refused = await contractor.post(action, old);
    expect(refused.statusCode).toBe(403);
    const link = /href="([^"]+)">Back to the form, filled/.exec(refused.body)?.[1] ?? '';
    const [form] = formsTo((await contractor.get(link)).body, action);
    expect(form!.text).toBe('Which nails at the rear face?');
    const other = await engineer.post(action, old);
    expect(other.statusCode).toBe(403);
    expect(other.body).not.toContain('Back to the form, filled');
    expect(await site.test.deps.prisma.keptForm.count()).toBe(0);
  });

  it('gives nothing back to whom the role does not let in', async () => {
    const { owner } = site;
    const token = boxesOf((await owner.get(`${site.inOpening}/progress`)).body)._owner!;
    const refused = await owner.post(`${item('Beam')}/questions`, { _owner: token, text: 'Is it in?' });
    expect(refused.statusCode).toBe(403);
    expect(refused.body).not.toContain('Back to the form, filled');
    expect(await site.test.deps.prisma.keptForm.count()).toBe(0);
  });
});

describe('the pages that these forms stand on', () => {
  /** Files have to be chosen again, and their captions with them. */
  const withFiles = /\/(attachments|schedule\/import)$/;

  it('say in every form with a box for words whose it is, and name no two boxes alike', async () => {
    const looked = new Set<string>();
    for (const { who, page } of Object.values(written)) {
      const { body } = await site[who].get(page());
      // A label leads to the box of its own form.
      const ids = [...body.matchAll(/<(?:input|textarea|select)\b[^>]*\bid="([^"]+)"/g)].map(([, id]) => id);
      expect(
        ids.filter((id, place) => ids.indexOf(id) !== place),
        page(),
      ).toEqual([]);
      for (const [form, tag = ''] of body.matchAll(/<form\b([^>]*)>[^]*?<\/form>/g)) {
        const action = /action="([^"]*)"/.exec(tag)?.[1] ?? '';
        const inWords = /<textarea\b|<input\b[^>]*type="(text|email|url)"/.test(form);
        if (!tag.includes('method="post"') || !inWords || withFiles.test(action)) continue;
        expect(form, `${page()}: ${action}`).toContain('name="_owner"');
        looked.add(action);
      }
    }
    expect(looked.size).toBeGreaterThanOrEqual(20);
  });
});
