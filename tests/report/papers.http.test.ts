import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoRows } from '../../src/demo/cinder-ferry.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { closeVisit, openVisit, recordFinding } from '../../src/inspection/visits/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import type { Client } from '../support/app.ts';
import { readPdf } from './support/read-pdf.ts';

const HOSTILE = '<script>alert(1)</script> & “three” nails';
const LONG = 'The nails at the far end stand proud by the width of a thumb. '.repeat(50).trim();
let site: Site;
let setUrl: string;
let visitUrl: string;
let openVisitUrl: string;
let emptyOpening: string;

beforeAll(async () => {
  site = await buildSite();
  const { deps } = site.test;
  for (const content of demoFootings)
    await site.add('footing', content.end, `Footing ${content.end}`, content);
  await site.issue();
  const first = demoRows[0]!;
  await site.change(first.title, { ...first.content, note: HOSTILE });
  await site.issue();
  const set = await deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 2 } });
  setUrl = `${site.inProject}/sets/${set.id}`;

  const inspector = site.actor(site.inspector, 'inspector');
  const { openingId } = site;
  const { visitId } = await openVisit(deps, inspector, { openingId, visitKey: 'framing' });
  visitUrl = `${site.inProject}/visits/${visitId}`;
  const checks = await deps.prisma.check.findMany({
    where: { setId: set.id, visitKind: 'framing' },
    orderBy: { ordinal: 'asc' },
  });
  const found = [
    { result: 'correction', reason: HOSTILE },
    { result: 'correction', reason: LONG },
    { result: 'pass', reason: '' },
  ] as const;
  for (const [index, one] of found.entries()) {
    await recordFinding(deps, inspector, {
      visitId,
      checkId: checks[index]!.id,
      clientKey: `papers-${index}-key`,
      location: index === 0 ? 'at the left pack' : '',
      files: [],
      ...one,
    });
  }
  await closeVisit(deps, inspector, {
    visitId,
    outcome: 'correction_needed',
    portion: '',
    summary: 'Two corrections <b>to do</b>.',
    signedName: 'In Spector',
  });
  const again = await openVisit(deps, inspector, { openingId, visitKey: 'footing' });
  openVisitUrl = `${site.inProject}/visits/${again.visitId}`;
  const builder = site.actor(site.contractor, 'contractor');
  const empty = await createOpening(deps, builder, { name: 'Pantry wall' });
  emptyOpening = `${site.inProject}/openings/${empty.openingId}`;
});
afterAll(() => site.test.close());

/** What every paper has: text, fonts of its own, page x of y, that it is no seal, a size, and a name of ours. */
async function paper(person: Client, url: string, name: string) {
  const { statusCode, headers, rawPayload } = await person.get(url);
  expect(statusCode).toBe(200);
  expect(headers['content-type']).toBe('application/pdf');
  expect(headers['content-disposition']).toBe(`inline; filename="${name}.pdf"`);
  expect(headers['x-content-type-options']).toBe('nosniff');
  expect(headers['cache-control']).toBe('private, no-store');
  expect(rawPayload.length).toBeLessThan(1_000_000);
  const pdf = await readPdf(rawPayload);
  expect(pdf.fonts.length).toBeGreaterThan(0);
  expect(pdf.missingFonts).toEqual([]);
  const [width] = pdf.size;
  for (const [at, page] of pdf.pages.entries()) {
    expect(page).toContain(`Page ${at + 1} of ${pdf.pages.length}`);
    expect(page).toContain('Record of review. Not a sealed document.');
    for (const one of pdf.placed[at] ?? []) expect(one.x + one.width, one.text).toBeLessThanOrEqual(width);
  }
  return pdf;
}

async function statuses(url: string): Promise<Record<string, number>> {
  const stranger = await site.test.person(`Stranger ${Math.random()}`);
  const people = {
    contractor: site.contractor,
    engineer: site.engineer,
    inspector: site.inspector,
    owner: site.owner,
    stranger,
    'signed out': site.test.visitor(),
  };
  const found: Record<string, number> = {};
  for (const [who, person] of Object.entries(people)) found[who] = (await person.get(url)).statusCode;
  return found;
}
const all = { contractor: 200, engineer: 200, inspector: 200, owner: 200, stranger: 404, 'signed out': 303 };

describe('the fastener schedule', () => {
  it('of a set has a line a row with its revision, and what changed since the set before', async () => {
    const pdf = await paper(site.inspector, `${setUrl}/schedule.pdf`, 'schedule-opening-1-set-2');
    expect(pdf.size).toEqual([792, 612]);
    for (const { key } of demoRows) expect(pdf.text).toContain(key);
    expect(pdf.text).toContain('△2');
    expect(pdf.text).toContain('△1');
    expect(pdf.text).toContain('since set 1: note added');
    expect(pdf.text).toContain('<script>alert(1)</script>');
    expect(pdf.text).toContain('Approved set 2');
    expect(pdf.text).toContain('Demand and capacity');
  });

  it('of a set tells the owner what is built, without the arithmetic', async () => {
    const pdf = await paper(site.owner, `${setUrl}/schedule.pdf`, 'schedule-opening-1-set-2');
    expect(pdf.text).not.toContain('Demand and capacity');
    expect(await statuses(`${setUrl}/schedule.pdf`)).toEqual(all);
  });

  it('of the newest state says that it is not approved, and is for those who work on it', async () => {
    const url = `${site.inOpening}/schedule.pdf`;
    const pdf = await paper(site.engineer, url, 'schedule-opening-1-working-state');
    expect(pdf.text).toContain('Working document');
    expect(pdf.text).toContain('Not approved as a whole');
    expect(await statuses(url)).toEqual({ ...all, inspector: 403, owner: 403 });
  });
});

describe('the checklist', () => {
  it('of a set has boxes to fill in, what is held, and the code to the live list', async () => {
    const pdf = await paper(site.inspector, `${setUrl}/checklist.pdf`, 'checklist-opening-1-set-2');
    for (const words of ['Checklist from set 2', 'Framing, before cover', '□ pass', 'Held until checks pass'])
      expect(pdf.text).toContain(words);
    const { deps } = site.test;
    const checks = await deps.prisma.check.findMany({ where: { setId: setUrl.split('/').at(-1)! } });
    const spaced = pdf.text.replace(/\s+/g, '');
    for (const { title } of checks) expect(spaced).toContain(title.replace(/\s+/g, ''));
    expect(await statuses(`${setUrl}/checklist.pdf`)).toEqual({ ...all, owner: 403 });
  });

  it('of a closed visit is filled: outcome, findings with reasons and places, nothing to tick', async () => {
    const pdf = await paper(site.engineer, `${visitUrl}/checklist.pdf`, 'visit-1-opening-1-set-2');
    for (const words of [
      'Visit 1: Framing, before cover',
      'Correction needed',
      'Two corrections <b>to do</b>.',
      'In Spector',
      'at the left pack',
      '<script>alert(1)</script>',
    ])
      expect(pdf.text).toContain(words);
    expect(pdf.text.replace(/\s+/g, ' ').match(/stand proud by the width/g)).toHaveLength(50);
    expect(pdf.text).not.toContain('□ pass');
    expect(await statuses(`${visitUrl}/checklist.pdf`)).toEqual({ ...all, owner: 403 });
  });

  it('of an open visit is not printed as if it were done', async () => {
    const { statusCode, body } = await site.inspector.get(`${openVisitUrl}/checklist.pdf`);
    expect(statusCode).toBe(422);
    expect(body).toContain('printed once it is closed');
  });

  it('of a superseded set says so', async () => {
    const first = await site.test.deps.prisma.approvedSet.findFirstOrThrow({ where: { number: 1 } });
    for (const name of ['checklist', 'schedule']) {
      const { rawPayload } = await site.inspector.get(`${site.inProject}/sets/${first.id}/${name}.pdf`);
      expect((await readPdf(rawPayload)).text).toContain('Superseded: set 2 is in force.');
    }
  });
});

describe('the owner’s summary', () => {
  it('says in plain words how far it is, with the picture of what is approved', async () => {
    const url = `${site.inOpening}/progress.pdf`;
    const pdf = await paper(site.owner, url, 'summary-opening-1');
    for (const words of [
      'Is it safe?',
      'What is next',
      'Step by step',
      'Elevation of the opening',
      'Approved plan 2',
    ])
      expect(pdf.text).toContain(words);
    // Reasons, names of checks and figures are not the owner's.
    expect(pdf.text).not.toContain('stand proud');
    expect(pdf.text).not.toContain('NDS');
    expect(await statuses(url)).toEqual(all);
  });

  it('of an opening without a set says that nothing is approved', async () => {
    const pdf = await paper(site.owner, `${emptyOpening}/progress.pdf`, 'summary-opening-2');
    expect(pdf.text).toContain('No plan is approved yet');
    expect(pdf.text).not.toContain('Elevation');
  });
});

it('prints on either kind of paper', async () => {
  const widths = async (url: string) => {
    const found: number[] = [];
    for (const query of ['', '?paper=a4', '?paper=tabloid'])
      found.push(Math.round((await readPdf((await site.engineer.get(`${url}${query}`)).rawPayload)).size[0]));
    return found;
  };
  expect(await widths(`${setUrl}/schedule.pdf`)).toEqual([792, 842, 1224]);
  expect(await widths(`${setUrl}/checklist.pdf`)).toEqual([612, 595, 792]);
});

it('is offered where it belongs', async () => {
  const links = [
    [`${setUrl}/schedule`, `${setUrl}/schedule.pdf`],
    [`${site.inOpening}/schedule`, `${site.inOpening}/schedule.pdf`],
    [`${site.inOpening}/checklist`, `${setUrl}/checklist.pdf`],
    [visitUrl, `${visitUrl}/checklist.pdf`],
    [`${site.inOpening}/progress`, `${site.inOpening}/progress.pdf`],
  ] as const;
  for (const [page, link] of links)
    expect((await site.engineer.get(page)).body, page).toContain(`href="${link}"`);
  expect((await site.inspector.get(openVisitUrl)).body).not.toContain('checklist.pdf');
});
