import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { changedSince, readAsked } from '../../../src/record/sets/check.ts';
import type { SetContent } from '../../../src/record/sets/content.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { openHouse, wordsOf, type House } from '../schedule/house.ts';
import type { Client } from '../../support/app.ts';

let house: House;
let successor: Client;
beforeAll(async () => {
  house = await openHouse();
  await submitVersions(house.test.deps, house.contractorActor, { openingId: house.openingId });
});
afterAll(() => house.test.close());

/** Approves on the review page all that is shown there. */
async function approveAll(engineer: Client): Promise<void> {
  const url = `/projects/${house.projectId}/openings/${house.openingId}/review`;
  const { body } = await engineer.get(url);
  const boxes: Record<string, string> = {};
  for (const [, itemId = '', shown = ''] of body.matchAll(/name="shown\.([0-9a-f-]{36})" value="([^"]+)"/g)) {
    boxes[`shown.${itemId}`] = shown;
    boxes[`word.${itemId}`] = 'approved';
    boxes[`reason.${itemId}`] = 'Looked at one by one.';
  }
  expect((await engineer.post(url, boxes)).statusCode).toBe(303);
}

async function issue(engineer: Client, expectedLastNumber: number) {
  const { test, openingId, projectId } = house;
  const actor = { ...engineer, role: 'engineer' as const, projectId };
  const preview = await previewSet(test.deps, actor, { openingId });
  const { setId } = await issueSet(test.deps, actor, {
    openingId,
    expectedLastNumber,
    entries: preview.content.entries.map(({ itemId, versionId, hash }) => ({ itemId, versionId, hash })),
    confirmedQuestions: [],
    note: '',
  });
  return test.deps.prisma.approvedSet.findUniqueOrThrow({ where: { id: setId } });
}

const check = async (client: Client, set: string) => {
  const answer = await client.get(`/set-check?set=${encodeURIComponent(set)}`);
  return { status: answer.statusCode, words: wordsOf(answer.body) };
};

describe('the check of a set’s number or hash', () => {
  it('reads a number, and eight signs of a hash or more', () => {
    expect(readAsked(' Set 3 ')).toEqual({ number: 3 });
    expect(readAsked('0A1B2C3D…')).toEqual({ hash: '0a1b2c3d' });
    expect(readAsked('12345678')).toEqual({ hash: '12345678' });
    for (const text of ['', '0', '1234567', 'abcdefg1', '-1', 'a'.repeat(65)])
      expect(readAsked(text)).toBeNull();
  });

  it('says what a later set holds otherwise', () => {
    const entry = (itemId: string, number: number) => ({
      itemId,
      key: itemId,
      title: `Item ${itemId}`,
      versionId: `${itemId}${number}`,
      number,
    });
    const content = (entries: object[]) => ({ bases: [], entries }) as unknown as SetContent;
    expect(
      changedSince(
        content([entry('a', 1), entry('b', 1), entry('c', 1)]),
        content([entry('a', 1), entry('b', 3), entry('d', 1)]),
      ),
    ).toEqual(['Item b (b): version 1 → 3', 'Item d (d): added, version 1', 'Item c (c): no longer in it']);
  });

  it('shows a current set to every member, by number, hash or code, and to nobody else', async () => {
    await approveAll(house.engineer);
    const set = await issue(house.engineer, 0);
    for (const client of [house.contractor, house.engineer, house.inspector, house.owner]) {
      for (const asked of ['1', set.hash.slice(0, 12), set.hash]) {
        const { words } = await check(client, asked);
        expect(words).toContain('It is in force.');
        expect(words).toContain('It is not a seal');
        expect(words).toContain('Not a sealed document');
      }
    }
    const code = await house.owner.get(`/projects/${house.projectId}/sets/${set.id}/code.svg`);
    expect(code.headers['content-type']).toContain('image/svg+xml');
    expect((await house.owner.get(`/projects/${house.projectId}/sets/${set.id}`)).body).toContain(
      '/code.svg"',
    );
    const stranger = await house.test.person('Stranger');
    const { words } = await check(stranger, set.hash);
    expect(words).toContain('None of your projects has issued that number or hash.');
    expect(words).not.toContain('Cinder Ferry');
    expect((await check(house.owner, 'twelve')).status).toBe(422);
    const signedOut = await house.test.visitor().get('/set-check?set=1');
    expect(signedOut.headers.location).toBe(`/sign-in?next=${encodeURIComponent('/set-check?set=1')}`);
  });
});

describe('a project that passes to another engineer', () => {
  it('is handed over by the contractor: the old marks stay, the access ends', async () => {
    const { contractor, engineer, projectId, test } = house;
    const people = `/projects/${projectId}/people`;
    await contractor.get(people);
    const membership = await test.deps.prisma.membership.findFirstOrThrow({
      where: { projectId, personId: engineer.personId },
    });
    await contractor.post(`/projects/${projectId}/members/${membership.id}/removal`);
    expect((await engineer.get(`/projects/${projectId}`)).statusCode).toBe(404);
    const invited = await contractor.post(`/projects/${projectId}/invitations`, {
      role: 'engineer',
      label: 'The next engineer',
    });
    const token = /\/invitations\/([\w-]+)/.exec(
      /id="invitation-link"[^>]*value="([^"]+)"/.exec(invited.body)![1]!,
    )![1]!;
    successor = await test.person('M. B.');
    await successor.get(`/invitations/${token}`);
    expect((await successor.post(`/invitations/${token}`)).statusCode).toBe(303);
    const words = wordsOf((await contractor.get(people)).body);
    expect(words).toContain('No longer in the project K. O.');
    expect(words).toContain('M. B.');
  });

  it('goes on: the next set says on whose word each item rests, the one before is superseded', async () => {
    const { test, contractorActor, openingId, owner } = house;
    const beam = await test.deps.prisma.item.findFirstOrThrow({
      where: { openingId, kind: 'fastening' },
      include: { versions: true },
    });
    const content = JSON.parse(beam.versions[0]!.content) as Record<string, unknown>;
    await saveVersion(test.deps, contractorActor, {
      itemId: beam.id,
      expectedNumber: 1,
      content: { ...content, where: 'Beam, all of it' },
    });
    await submitVersions(test.deps, contractorActor, { openingId });
    await approveAll(successor);
    const set = await issue(successor, 1);
    const page = wordsOf((await owner.get(`/projects/${house.projectId}/sets/${set.id}`)).body);
    const reliance = page.slice(page.indexOf('On whose word'));
    expect(reliance).toContain('K. O.:');
    expect(reliance).toContain('M. B.:');
    const { words } = await check(owner, '1');
    expect(words).toContain('Superseded by set 2');
    expect(words).toContain(`${beam.title} (${beam.key}): version 1 → 2`);
    expect((await check(owner, '2')).words).toContain('It is in force.');
  });

  it('lets the new engineer withdraw the other’s approval: it stays visible, and every set that holds it is flagged', async () => {
    const { test, openingId, projectId, inspector } = house;
    const { versions, title, id } = await test.deps.prisma.item.findFirstOrThrow({
      where: { openingId, kind: 'beam' },
      include: { versions: true },
    });
    const item = `/projects/${projectId}/items/${id}`;
    const before = await successor.get(item);
    expect(before.body).toContain('Withdraw the approval');
    const withdrawn = await successor.post(`/projects/${projectId}/marks`, {
      back: item,
      [`shown.${versions[0]!.id}`]: `${versions[0]!.hash}|1`,
      word: 'withdrawn',
      reason: 'The span was read wrong.',
    });
    expect(withdrawn.statusCode).toBe(303);
    const words = wordsOf((await successor.get(item)).body);
    expect(words).toContain('approved by K. O.');
    expect(words).toContain('withdrawn by M. B.');
    for (const number of ['1', '2']) {
      const flagged = await check(inspector, number);
      expect(flagged.words).toContain('It holds an approval that was withdrawn');
      expect(flagged.words).toContain(title);
      expect(flagged.words).not.toContain('It is in force.');
    }
  });
});
