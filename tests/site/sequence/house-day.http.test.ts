import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Actor } from '../../../src/actor.ts';
import { createOpening } from '../../../src/record/openings/service.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { planSequence } from '../../../src/site/sequence/service.ts';
import { startTestApp, type Client, type TestApp } from '../../support/app.ts';

/** Six in the evening in California; in UTC it is the day after. */
const EVENING = new Date('2026-05-10T01:00:00Z');
let now = EVENING;
let test: TestApp;
let contractor: Client;
let owner: Client;
let builder: Actor;
let inOpening = '';
let openingId = '';

beforeAll(async () => {
  test = await startTestApp({}, undefined, () => now);
  contractor = await test.person('Con Tractor');
  const { projectId } = await createProject(test.deps, contractor, {
    name: 'Den',
    address: '12 Slipway Row',
    jurisdiction: 'Town',
    permitNumber: 'BP-1',
    timeZone: 'America/Los_Angeles',
  });
  builder = { personId: contractor.personId, name: contractor.name, role: 'contractor', projectId };
  ({ openingId } = await createOpening(test.deps, builder, { name: 'Den wall' }));
  inOpening = `/projects/${projectId}/openings/${openingId}`;
  owner = await test.person('Ow Ner');
  await test.join(owner, projectId, 'owner');
});
beforeEach(() => {
  now = EVENING;
});
afterAll(() => test.close());

const stepPage = '/sequence/steps/hazards';
const doneOn = (page: string) => /name="doneOn"[^>]*value="([^"]*)"/.exec(page)?.[1];

describe('in the evening, when the day of UTC has ended', () => {
  it('the day of the house is proposed', async () => {
    expect(doneOn((await contractor.get(`${inOpening}${stepPage}`)).body)).toBe('2026-05-09');
    const drawing = `/projects/${builder.projectId}/items/new?kind=drawing&opening=${openingId}`;
    expect((await contractor.get(drawing)).body).toMatch(/name="drawnOn"[^>]*value="2026-05-09"/);
  });

  it('is today for “can I take the wall down today?”', async () => {
    expect((await contractor.get(`${inOpening}/wall-down`)).body).toContain('May 9, 2026');
  });

  it('tomorrow is still to come: refused with the day that it is there, and what was typed', async () => {
    const said = { doneOn: '2026-05-10', who: 'R. T. and crew', note: 'Opened twice', allTheSame: '' };
    const answer = await contractor.post(`${inOpening}${stepPage}`, said);
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('That day is still to come. In the house it is May 9, 2026.');
    expect(doneOn(answer.body)).toBe('2026-05-10');
    expect(answer.body).toContain('R. T. and crew');
  });

  it('the owner is told what they will notice today until the day has ended there', async () => {
    await planSequence(test.deps, builder, {
      openingId,
      expectedNumber: 0,
      change: {
        is: 'plan',
        reason: '',
        steps: { wall_out: { plannedOn: '2026-05-09', who: '', notice: 'Power off', off: false } },
      },
    });
    const progress = async () => (await owner.get(`${inOpening}/progress`)).body;
    expect(await progress()).toContain('Power off');
    now = new Date('2026-05-10T07:00:00Z');
    expect(await progress()).not.toContain('Power off');
  });
});
