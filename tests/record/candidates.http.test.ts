import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam, demoCriteria, demoSurvey } from '../../src/demo/cinder-ferry.ts';
import { createItem } from '../../src/record/items/create.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../support/app.ts';

let test: TestApp;
let contractor: Client;
let base = '';
let projectId = '';
let openingId = '';

beforeAll(async () => {
  test = await startTestApp();
  contractor = await test.person('Contractor');
  ({ projectId } = await createProject(test.deps, contractor, {
    name: 'Search',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  }));
  const actor = { ...contractor, role: 'contractor' as const, projectId };
  ({ openingId } = await createOpening(test.deps, actor, { name: 'One' }));
  base = `/projects/${projectId}/openings/${openingId}/candidates`;
});
afterAll(() => test.close());

const add = (kind: 'criteria' | 'survey' | 'beam', content: unknown) =>
  createItem(
    test.deps,
    { ...contractor, role: 'contractor', projectId },
    {
      openingId: kind === 'criteria' ? null : openingId,
      kind,
      key: kind,
      title: kind,
      content,
    },
  );
const firstBeam = (body: string) =>
  /name="beam" value="([^"]+)"/.exec(body)?.[1]?.replaceAll('&quot;', '"') ?? '';

describe('searching for beams that would do', () => {
  it('needs the criteria and the survey first', async () => {
    const response = await contractor.get(base);
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Enter the criteria and the survey first');
  });

  it('ranks what passes, tells the near misses with the reason, and keeps the boxes', async () => {
    await add('criteria', demoCriteria);
    await add('survey', demoSurvey);
    const response = await contractor.get(
      `${base}?placement=flush&bearingLeftIn=4+1%2F2%22&bearingRightIn=4+1%2F2%22&depth=12%22&kind=composite`,
    );
    expect(response.statusCode).toBe(200);
    expect(response.body).toContain('LVL 2.0E');
    expect(response.body).toContain('Near misses, and why');
    expect(response.body).not.toContain('glulam 24F');
    const wrong = await contractor.get(`${base}?bearingLeftIn=12.6&bearingRightIn=3%22`);
    expect(wrong.body).toContain('value="12.6"');
    expect(wrong.body).toContain('f-bearingLeftIn-error');
  });

  it('takes one into the form of a new beam, which saves as calculated', async () => {
    const page = await contractor.get(`${base}?kind=steel`);
    const beam = firstBeam(page.body);
    const response = await contractor.post(base, { beam });
    expect(response.statusCode).toBe(303);
    const form = await contractor.get(String(response.headers.location));
    expect(form.body).toContain(
      `value="${(JSON.parse(beam) as { member: { shape: string } }).member.shape}"`,
    );
  });

  it('takes one as a draft onto the beam that is there', async () => {
    const { item } = await add('beam', demoBeam);
    const page = await contractor.get(`${base}?kind=glulam`);
    const response = await contractor.post(base, { beam: firstBeam(page.body) });
    expect(response.headers.location).toBe(`/projects/${projectId}/items/${item.itemId}/edit`);
    const form = await contractor.get(String(response.headers.location));
    expect(form.body).toContain('Your draft');
    expect(form.body).toMatch(/<option value="glulam" selected>/);
  });

  it('puts the cheaper first by a person’s own price list, and gives back what can’t be read', async () => {
    const first = () => contractor.get(`${base}?kind=composite`);
    const rows = (body: string) =>
      [...body.matchAll(/<th[^>]*scope="row"[^>]*>([^<]+)</g)].map(([, words]) => words);
    const page = await first();
    const pieces = [...page.body.matchAll(/name="(piece\.\d+)" value="([^"]+)"/g)];
    const [box, piece] = [pieces.at(-1)![1]!, pieces.at(-1)![2]!];
    const prices = (price: string) => ({
      kind: 'composite',
      [box.replace(/\d+/, '0')]: piece,
      'price.0': price,
    });
    const wrong = await contractor.post(`${base}/prices`, prices('cheap'));
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain('value="cheap"');
    expect(wrong.body).toContain('Type it as 4.85.');
    const kept = await contractor.post(`${base}/prices`, prices('0.10'));
    expect(kept.statusCode).toBe(303);
    const again = await contractor.get(String(kept.headers.location));
    expect(rows(again.body)[0]).not.toBe(rows(page.body)[0]);
    expect(again.body).toMatch(/\$0\.\d0 a foot/);

    const colleague = await test.person('Colleague');
    await test.join(colleague, projectId, 'engineer');
    expect((await colleague.get(`${base}?kind=composite`)).body).not.toContain(' a foot</td>');
    await contractor.post(`${base}/prices`, prices(''));
    expect(rows((await first()).body)[0]).toBe(rows(page.body)[0]);
  });

  it.each(['', '{', '{"member":{"kind":"paper"}}'])('refuses the candidate %j', async (beam) => {
    expect((await contractor.post(base, { beam })).statusCode).toBe(404);
  });
});
