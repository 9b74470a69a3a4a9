import type { Actor } from '../../../src/actor.ts';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoRows,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { createOpening } from '../../../src/record/openings/service.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../../support/app.ts';

export interface House {
  readonly test: TestApp;
  readonly projectId: string;
  readonly openingId: string;
  readonly contractor: Client;
  readonly engineer: Client;
  readonly inspector: Client;
  readonly owner: Client;
  readonly contractorActor: Actor;
  readonly engineerActor: Actor;
  /** Of the schedule's pages. */
  readonly base: string;
  /** Id of an item by its mark. */
  itemId: (key: string) => Promise<string>;
}

/** The demo house with its design and, unless left out, its three rows, and a person in every role. */
export async function openHouse({ rows = true } = {}): Promise<House> {
  const test = await startTestApp();
  const contractor = await test.person('R. T.');
  const { projectId } = await createProject(test.deps, contractor, {
    name: 'Cinder Ferry',
    address: '12 Slipway Row',
    jurisdiction: 'Town of Cinder Ferry',
    permitNumber: '',
  });
  const people = { engineer: 'K. O.', inspector: 'D. V.', owner: 'S. L.' } as const;
  const joined = {} as Record<keyof typeof people, Client>;
  for (const role of ['engineer', 'inspector', 'owner'] as const) {
    joined[role] = await test.person(people[role]);
    await test.join(joined[role], projectId, role);
  }
  const contractorActor: Actor = { ...contractor, role: 'contractor', projectId };
  const add = (kind: Parameters<typeof createItem>[2]['kind'], key: string, content: unknown, title = key) =>
    createItem(test.deps, contractorActor, {
      openingId: kind === 'criteria' ? null : openingId,
      kind,
      key,
      title,
      content,
    });
  const { openingId } = await createOpening(test.deps, contractorActor, { name: 'Den to box room' });
  await add('criteria', 'criteria', demoCriteria);
  await add('survey', 'survey', demoSurvey);
  await add('beam', 'beam', demoBeam);
  for (const support of demoSupports) await add('support', support.end, support);
  for (const footing of demoFootings) await add('footing', footing.end, footing);
  if (rows) for (const { key, title, content } of demoRows) await add('fastening', key, content, title);
  return {
    test,
    projectId,
    openingId,
    contractor,
    ...joined,
    contractorActor,
    engineerActor: { ...joined.engineer, role: 'engineer', projectId },
    base: `/projects/${projectId}/openings/${openingId}/schedule`,
    async itemId(key) {
      const item = await test.deps.prisma.item.findFirstOrThrow({
        where: { openingId, kind: 'fastening', key },
        select: { id: true },
      });
      return item.id;
    },
  };
}

/** Names and values of the boxes of a page's forms, as a browser would send them untouched. */
export function boxesOf(body: string): Record<string, string> {
  const boxes: Record<string, string> = {};
  for (const [tag] of body.matchAll(/<input [^>]*>/g)) {
    const name = /\bname="([^"]*)"/.exec(tag)?.[1];
    const value = /\bvalue="([^"]*)"/.exec(tag)?.[1] ?? '';
    if (name === undefined || name === '_csrf') continue;
    if (/type="(checkbox|radio)"/.test(tag) && !/\schecked\b/.test(tag)) continue;
    boxes[name] = unescaped(value);
  }
  // A name that an input of the page has already belongs to another of its forms.
  for (const [, name = '', options = ''] of body.matchAll(
    /<select [^>]*name="([^"]+)"[^>]*>([^]*?)<\/select>/g,
  )) {
    const first = /<option value="([^"]*)"/;
    const chosen = /<option value="([^"]*)"[^>]*\sselected/.exec(options) ?? first.exec(options);
    boxes[name] ??= unescaped(chosen?.[1] ?? '');
  }
  for (const [, name = '', text = ''] of body.matchAll(
    /<textarea [^>]*name="([^"]+)"[^>]*>([^]*?)<\/textarea>/g,
  )) {
    boxes[name] ??= unescaped(text);
  }
  return boxes;
}

export function unescaped(text: string): string {
  return text
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}

/** The words of a page, tags and all runs of space taken out. */
export function wordsOf(body: string): string {
  return unescaped(body.replaceAll(/<[^>]+>/g, ' ')).replaceAll(/\s+/g, ' ');
}
