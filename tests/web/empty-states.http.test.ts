import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { roles, type Role } from '../../src/people/roles.ts';
import { createOpening } from '../../src/record/openings/service.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../support/app.ts';
import { linksOf, patternOf } from '../support/crawl/page-source.ts';

/** A project in which nothing was entered: every page of it, for everyone, leads on. */
let test: TestApp;
let projectId = '';
const people = new Map<Role, Client>();

beforeAll(async () => {
  test = await startTestApp();
  const contractor = await test.person('Contractor');
  ({ projectId } = await createProject(test.deps, contractor, {
    name: 'Empty house',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  }));
  await createOpening(test.deps, { ...contractor, role: 'contractor', projectId }, { name: 'One' });
  people.set('contractor', contractor);
  for (const role of roles.filter((one) => one !== 'contractor')) {
    const person = await test.person(role);
    await test.join(person, projectId, role);
    people.set(role, person);
  }
});
afterAll(() => test.close());

interface Page {
  readonly pattern: string;
  readonly main: string;
}

/** One page of each pattern that links lead this person to. */
async function pagesFor(person: Client): Promise<Page[]> {
  const queue = ['/'];
  const known = new Set(queue);
  const pages: Page[] = [];
  for (let address = queue.shift(); address !== undefined; address = queue.shift()) {
    const { body, headers } = await person.get(address);
    if (!String(headers['content-type']).startsWith('text/html')) continue;
    for (const link of linksOf(body)) {
      const { host, pathname, search } = new URL(link, `http://here${address}`);
      const pattern = patternOf(pathname + search);
      if (host !== 'here' || !/^\/(?:$|projects)/.test(pathname) || known.has(pattern)) continue;
      known.add(pattern);
      queue.push(pathname + search);
    }
    const main = /<main[^>]*>([\s\S]*)<\/main>/.exec(body)?.[1] ?? '';
    pages.push({
      pattern: patternOf(address),
      main: main.replace(/<nav class="breadcrumb[\s\S]*?<\/nav>/g, ''),
    });
  }
  return pages;
}

/** Pages that only tell, and always have something to tell. */
const neverEmpty: ReadonlySet<string> = new Set(['/projects/:id/log', '/projects/:id/inspections']);

/** What can be done on a page, or where it leads, but for the way back that every page has. */
function waysOn(main: string): number {
  return (main.match(/<a [^>]*href="(?!\/")|<form |<input class="input/g) ?? []).length;
}

describe.each(roles)('an empty project, for its %s', (role) => {
  it('has no page without a next step for who may do it, or the word whose step it is', async () => {
    const pages = await pagesFor(people.get(role)!);
    expect(pages.length).toBeGreaterThan(6);
    const deadEnds = pages.filter(({ pattern, main }) => {
      if (neverEmpty.has(pattern)) return false;
      const says = /The (?:contractor|engineer) (?:adds|issues|has not|enters|decides)|who may|since /i.test(
        main,
      );
      return waysOn(main) === 0 && !says;
    });
    expect(deadEnds.map(({ pattern }) => pattern)).toEqual([]);
    // An empty list is never a bare line: a box that says what comes first, with the step or its owner in it.
    for (const { pattern, main } of pages) {
      for (const [, box = ''] of main.matchAll(/<div class="empty">([\s\S]*?)<\/div>/g)) {
        const words = box
          .replace(/<[^>]+>/g, ' ')
          .replace(/\s+/g, ' ')
          .trim();
        expect({ pattern, words, long: words.length > 40 }).toEqual({ pattern, words, long: true });
      }
    }
  });
});

it('an opening tells the contractor the first step, with the link to it', async () => {
  const contractor = people.get('contractor')!;
  const opening = (await test.deps.prisma.opening.findFirstOrThrow({ where: { projectId } })).id;
  const { body } = await contractor.get(`/projects/${projectId}/openings/${opening}`);
  const links = linksOf(body);
  expect(links).toContain(`/projects/${projectId}/items/new?kind=criteria`);
  expect(links).toContain(`/projects/${projectId}/items/new?kind=survey&opening=${opening}`);
});

it('offers the criteria by the code that is in force, each with the standards that go with it', async () => {
  const contractor = people.get('contractor')!;
  const chosen = async (start: string) => {
    const { body } = await contractor.get(
      `/projects/${projectId}/items/new?kind=criteria&start=${encodeURIComponent(start)}`,
    );
    return ['irc', 'asce7', 'nds', 'aisc360'].map(
      (name) =>
        new RegExp(`name="editions\\.${name}"[\\s\\S]*?<option value="([^"]+)" selected>`).exec(body)?.[1],
    );
  };
  expect(await chosen('IRC 2018')).toEqual(['2018', '7-16', '2018', '360-16']);
  expect(await chosen('IRC 2024')).toEqual(['2024', '7-22', '2024', '360-22']);
  expect(await chosen('something else')).toEqual(['2021', '7-16', '2018', '360-16']);
});
