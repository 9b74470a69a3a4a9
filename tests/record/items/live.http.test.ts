import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBeam, demoSurvey } from '../../../src/demo/cinder-ferry.ts';
import { beamForm } from '../../../src/record/kinds/beam/form.ts';
import { surveyForm } from '../../../src/record/kinds/survey/form.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import { openHouse, unescaped, wordsOf, type House } from '../schedule/house.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.test.close());

const opening = () => `/projects/${house.projectId}/openings/${house.openingId}`;
const preview = (kind: string, boxes: Record<string, string>, at = opening()) =>
  house.contractor.post(`${at}/preview?kind=${kind}`, boxes);
const line = (body: string) => unescaped(/data-line="([^"]*)"/.exec(body)?.[1] ?? '');

describe('what an item comes to while it is typed', () => {
  it('recomputes a beam: the shallower one sags more', async () => {
    const boxes = fillForm(beamForm.spec, demoBeam);
    const deep = await preview('beam', boxes);
    expect(deep.statusCode).toBe(200);
    expect(deep.body.match(/class="drawing"/g)).toHaveLength(2);
    expect(line(deep.body)).toMatch(
      /^(All \d+ checks met\. Governing|\d+ of \d+ checks not met\. Worst): .+, \d/,
    );
    const shallow = await preview('beam', { ...boxes, 'member.depthIn': '7 1/4"' });
    expect(line(shallow.body)).toMatch(/^\d+ of \d+ checks not met\. Worst: /);
    expect(line(shallow.body)).not.toBe(line(deep.body));
  });

  it('draws a survey as typed, and keeps nothing', async () => {
    const boxes = fillForm(surveyForm.spec, { ...demoSurvey, openingToIn: demoSurvey.openingToIn - 12 });
    const answer = await preview('survey', boxes);
    expect(answer.body).toContain('What the wall holds up today');
    expect(line(answer.body)).toBe('Drawn as typed.');
    expect(await house.test.deps.prisma.version.count({ where: { item: { kind: 'survey' } } })).toBe(1);
  });

  it('says what is missing, at the first entry that can’t be read', async () => {
    const boxes = { ...fillForm(beamForm.spec, demoBeam), bearingLeftIn: 'four' };
    expect(line((await preview('beam', boxes)).body)).toMatch(/^Not complete yet: /);
  });

  it('knows no such kind, and no opening of somebody else’s', async () => {
    expect((await preview('chimney', {})).statusCode).toBe(404);
    const stranger = await house.test.person('Somebody');
    const { statusCode } = await stranger.post(`${opening()}/preview?kind=beam`, {});
    expect(statusCode).toBe(404);
    expect((await house.owner.post(`${opening()}/preview?kind=beam`, {})).statusCode).toBe(403);
  });
});

describe('the picture of an opening', () => {
  it('shows beam and packs by the newest versions, with every load', async () => {
    const { body } = await house.contractor.get(opening());
    expect(body).toContain('Loads on the beam, by the newest versions');
    expect(body).toContain('dw-piece--jack');
    expect(wordsOf(body)).toContain('Upper floor');
  });
});
