import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dayText, longDayText, minuteText } from '../../src/house-time.ts';
import { closeVisit, openVisit } from '../../src/inspection/visits/service.ts';
import { editProject } from '../../src/record/projects/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { readPdf } from './support/read-pdf.ts';

/** Between these two clocks lie 25 hours: whenever it is, they show different days. */
const EAST = 'Pacific/Kiritimati';
const WEST = 'Pacific/Pago_Pago';
let site: Site;
let setId = '';
let visitId = '';
let issuedAt: Date;

beforeAll(async () => {
  site = await buildSite();
  await moveTo(EAST);
  await site.issue();
  const set = await site.test.deps.prisma.approvedSet.findFirstOrThrow();
  [setId, issuedAt] = [set.id, set.issuedAt];
  const inspector = site.actor(site.inspector, 'inspector');
  ({ visitId } = await openVisit(site.test.deps, inspector, {
    openingId: site.openingId,
    visitKey: 'framing',
  }));
  await closeVisit(site.test.deps, inspector, {
    visitId,
    outcome: 'not_ready',
    portion: '',
    summary: 'Nobody there.',
    signedName: 'In Spector',
  });
});
afterAll(() => site.test.close());

async function moveTo(timeZone: string): Promise<void> {
  const lines = { name: 'Den', address: '12 Row', jurisdiction: 'Town', permitNumber: '', timeZone };
  await editProject(site.test.deps, site.actor(site.contractor, 'contractor'), lines);
}

/** On one line, as words break anywhere on paper. */
async function wordsOf(url: string): Promise<string> {
  const { statusCode, rawPayload } = await site.engineer.get(`${site.inProject}${url}`);
  expect(statusCode).toBe(200);
  return (await readPdf(rawPayload)).text.replace(/\s+/g, ' ');
}

describe.each([
  [EAST, WEST],
  [WEST, EAST],
])('papers of a house in %s', (here, there) => {
  beforeAll(() => moveTo(here));
  const set = (paper: string) => `/sets/${setId}/${paper}.pdf`;

  it.each([['schedule'], ['drawings'], ['calculation']])(
    'tell by its clock when the set was issued: %s',
    async (paper) => {
      const words = await wordsOf(set(paper));
      expect(words).toContain(dayText(issuedAt, here));
      expect(words).not.toContain(dayText(issuedAt, there));
    },
  );

  it('tell times with its zone, and UTC nowhere', async () => {
    const visit = await site.test.deps.prisma.visit.findUniqueOrThrow({
      where: { id: visitId },
      include: { closing: true },
    });
    const words = await wordsOf(`/visits/${visitId}/checklist.pdf`);
    expect(words).toContain(`Begun ${minuteText(visit.openedAt, here)}`);
    expect(words).toContain(`In Spector, ${minuteText(visit.closing!.closedAt, here)}`);
    expect(words).toMatch(/Printed [A-Z][a-z]{2} \d+, \d{4}, \d+:\d\d [AP]M (GMT|SST)/);
    const made = await wordsOf(set('calculation'));
    expect(made).toMatch(/Made [A-Z][a-z]{2} \d+, \d{4}, \d+:\d\d [AP]M (GMT|SST)/);
    expect(`${words} ${made}`).not.toContain('UTC');
  });

  it('tell the owner the day of the last step there', async () => {
    const words = await wordsOf(`/openings/${site.openingId}/progress.pdf`);
    expect(words).toContain(`Last step on ${longDayText(issuedAt, here)}`);
    expect(words).not.toContain(longDayText(issuedAt, there));
  });
});

it('the zone is in no set: what is approved does not depend on a clock', async () => {
  const set = await site.test.deps.prisma.approvedSet.findUniqueOrThrow({ where: { id: setId } });
  expect(set.content).not.toContain(EAST);
});
