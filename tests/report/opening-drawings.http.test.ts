import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings } from '../../src/demo/cinder-ferry.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { buildSite, type Site } from '../inspection/support/site.ts';
import { createProject } from '../../src/record/projects/service.ts';

let site: Site;
let ofSet: string;
const ofProposal = () => `${site.inOpening}/drawings`;
beforeAll(async () => {
  site = await buildSite();
  for (const content of demoFootings)
    await site.add('footing', content.end, `Footing ${content.end}`, content);
  await site.issue();
  const { id } = await site.test.deps.prisma.approvedSet.findFirstOrThrow({});
  ofSet = `${site.inProject}/sets/${id}/drawings`;
});
afterAll(() => site.test.close());

const FILES = ['elevation.svg', 'section-left.svg', 'section-right.svg', 'drawings.dxf'];

describe('the drawings of an approved set', () => {
  it('come as files by name and type, for every role', async () => {
    for (const person of [site.contractor, site.engineer, site.inspector, site.owner]) {
      for (const file of FILES) {
        const { headers, statusCode, body } = await person.get(`${ofSet}/${file}`);
        expect(statusCode).toBe(200);
        const dxf = file.endsWith('dxf');
        expect(headers['content-type']).toContain(dxf ? 'image/vnd.dxf' : 'image/svg+xml');
        const name = dxf ? 'opening-1-set-1.dxf' : `opening-1-set-1-${file}`;
        expect(headers['content-disposition']).toBe(`attachment; filename="${name}"`);
        expect(headers['x-content-type-options']).toBe('nosniff');
        expect(body).toContain('Approved set 1, issued');
        expect(body).toContain('Record of review. Not a sealed document.');
        expect(body).not.toContain('not approved');
      }
    }
  });

  it('are on a page, at the same scale', async () => {
    const { body, statusCode } = await site.owner.get(ofSet);
    expect(statusCode).toBe(200);
    for (const title of [
      'Elevation of the opening',
      'Section at the left support',
      'Section at the right support',
    ])
      expect(body).toContain(title);
    expect(body.match(/<svg[^>]* width="[\d.]+in"/g)).toHaveLength(3);
    const ids = [...body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect((await site.owner.get(ofSet.replace('/drawings', ''))).body).toContain(`href="${ofSet}"`);
  });

  it('are larger on larger paper', async () => {
    const width = async (query: string) =>
      Number(/ width="([\d.]+)in"/.exec((await site.owner.get(`${ofSet}/elevation.svg${query}`)).body)?.[1]);
    expect(await width('?paper=tabloid')).toBeGreaterThan(await width(''));
    expect(await width('?paper=nothing-like-it')).toBe(await width(''));
  });

  it('answer 404 to names that no drawing has, to strangers, and for sets of other projects', async () => {
    for (const file of ['elevation.dxf', 'drawings.svg', 'section-middle.svg', '..%2Felevation.svg'])
      expect((await site.engineer.get(`${ofSet}/${file}`)).statusCode).toBe(404);
    const stranger = await site.test.person('Somebody');
    expect((await stranger.get(`${ofSet}/elevation.svg`)).statusCode).toBe(404);
    const { projectId } = await createProject(site.test.deps, stranger, {
      name: 'Other',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
    });
    const crossed = ofSet.replace(site.projectId, projectId);
    expect((await stranger.get(`${crossed}/elevation.svg`)).statusCode).toBe(404);
  });
});

describe('the drawings of a proposal', () => {
  it('say that they are not approved, and are for those who work on it', async () => {
    for (const person of [site.contractor, site.engineer]) {
      for (const file of FILES) {
        const { body, headers } = await person.get(`${ofProposal()}/${file}`);
        expect(body).toContain('Proposal, not approved');
        expect(headers['content-disposition']).toContain('opening-1-proposal');
      }
    }
    for (const person of [site.inspector, site.owner])
      expect((await person.get(`${ofProposal()}/elevation.svg`)).statusCode).toBe(403);
  });

  it('say what is missing where there is nothing to draw', async () => {
    const builder = site.actor(site.contractor, 'contractor');
    const { openingId } = await createOpening(site.test.deps, builder, { name: 'Pantry <b>wall</b>' });
    const empty = `${site.inProject}/openings/${openingId}/drawings`;
    const page = await site.engineer.get(empty);
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('The opening has no survey and criteria');
    expect(page.body).not.toContain('<b>wall');
    const file = await site.engineer.get(`${empty}/drawings.dxf`);
    expect(file.statusCode).toBe(422);
    expect(file.body).toContain('nothing can be drawn');
  });
});

it('flags the drawings of a superseded set, on the page and in the files', async () => {
  await site.change('Footing left', { ...demoFootings[0], foundThicknessIn: 10 });
  expect(await site.issue()).toBe(2);
  for (const address of [ofSet, `${ofSet}/section-left.svg`, `${ofSet}/drawings.dxf`]) {
    const { body } = await site.inspector.get(address);
    expect(body).toContain('set 2 is in force');
  }
});
