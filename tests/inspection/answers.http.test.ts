import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { buildSite, type Site } from './support/site.ts';

let site: Site;
beforeAll(async () => {
  site = await buildSite();
  await site.issue();
});
afterAll(() => site.test.close());

it('an answer to a correction arrives under the very name that its box has on the page', async () => {
  const begun = await site.inspector.post(`${site.inOpening}/visits`, { kind: 'framing' });
  const { prisma } = site.test.deps;
  const check = await prisma.check.findFirstOrThrow({ where: { visitKind: 'framing' } });
  await site.inspector.upload(
    `${String(begun.headers.location)}/findings`,
    { checkId: check.id, clientKey: randomUUID(), result: 'correction', reason: 'Gap', location: '' },
    [],
  );
  const list = `${site.inOpening}/checklist`;
  // Nobody has to come upon it in the list: the page of the opening leads there, until it is answered.
  const asked = `Put right what the inspector found, and say so: ${check.title}.`;
  expect((await site.contractor.get(site.inOpening)).body).toContain(asked);
  expect((await site.engineer.get(site.inOpening)).body).not.toContain(asked);
  const page = (await site.contractor.get(list)).body;
  const name = /<textarea[^>]* name="(note[^"]*)"/.exec(page)?.[1] ?? '';
  const action = /action="([^"]*\/answers)"/.exec(page)?.[1] ?? '';
  const sent = await site.contractor.upload(action, { [name]: 'Shimmed and nailed', back: list }, []);
  expect(sent.statusCode).toBe(303);
  expect((await site.inspector.get(list)).body).toContain('Shimmed and nailed');
  expect((await site.contractor.get(site.inOpening)).body).not.toContain(asked);
  const empty = await site.contractor.upload(action, { [name]: ' ', back: list }, []);
  expect(empty.statusCode).toBe(422);
});
