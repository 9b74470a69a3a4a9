import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lettersOf } from '../../src/notify/mail/letters.ts';
import { createProject } from '../../src/record/projects/service.ts';
import { startTestApp, testAppSecret, testPassword, type Client, type TestApp } from '../support/app.ts';

let test: TestApp;
beforeAll(async () => {
  test = await startTestApp({ PUBLIC_URL: 'https://record.example.test' });
});
afterAll(() => test.close());

const emailOf = async (client: Client) =>
  (await test.deps.prisma.person.findUniqueOrThrow({ where: { id: client.personId } })).email!;
const lettersTo = (kind: string, where: object) =>
  test.deps.prisma.letter.findMany({ where: { kind, ...where }, orderBy: { createdAt: 'asc' } });

/** The words of a letter, made as right before it is sent; its link as a path. */
async function write(letterId: string) {
  const row = await test.deps.prisma.letter.findUniqueOrThrow({ where: { id: letterId } });
  const words = await lettersOf({ ...test.deps, secret: testAppSecret })(row);
  const link = /https:\/\/record\.example\.test(\/(?:new-password|invitations)\/\S+)/.exec(
    words?.text ?? '',
  )?.[1];
  return { words, link: link ?? '' };
}

async function askFor(person: Client): Promise<string> {
  const email = await emailOf(person);
  const before = (await lettersTo('new-password', { personId: person.personId })).length;
  expect((await test.visitor().post('/forgotten-password', { email })).statusCode).toBe(200);
  for (;;) {
    const letters = await lettersTo('new-password', { personId: person.personId });
    if (letters.length > before) return letters.at(-1)!.id;
    await wait(20);
  }
}

describe('a forgotten password', () => {
  it('is replaced through the link of a letter; every session ends, and the link is used up', async () => {
    const person = await test.person('K. O.');
    const { words, link } = await write(await askFor(person));
    expect(words!.to.address).toBe(await emailOf(person));
    expect(words!.stopUrl).toBeNull();
    const visitor = test.visitor();
    expect((await visitor.get(link)).body).toContain('Choose a new password');
    const tooShort = await visitor.post(link, { password: 'short' });
    expect(tooShort.statusCode).toBe(422);
    expect(tooShort.body).not.toContain('value="short"');
    expect((await visitor.post(link, { password: 'five other words in row' })).statusCode).toBe(303);
    expect((await person.get('/account')).statusCode).toBe(303);
    const email = await emailOf(person);
    expect((await visitor.post('/sign-in', { email, password: testPassword })).statusCode).toBe(422);
    expect((await visitor.post('/sign-in', { email, password: 'five other words in row' })).statusCode).toBe(
      303,
    );
    expect((await test.visitor().get(link)).statusCode).toBe(404);
    expect((await test.visitor().post(link, { password: 'yet another password' })).statusCode).toBe(404);
  });

  it('answers alike whether there is such an account or not', async () => {
    const person = await test.person('K. O.');
    const known = await test.visitor().post('/forgotten-password', { email: await emailOf(person) });
    const unknown = await test.visitor().post('/forgotten-password', { email: 'nobody@example.org' });
    expect(unknown.statusCode).toBe(known.statusCode);
    const plain = (body: string) =>
      body.replace(/value="[^"]*"/g, '').replace(/[\w-]+@example\.org/g, 'somebody');
    expect(plain(unknown.body)).toBe(plain(known.body));
  });

  it('of two links the used one ends the other, and no secret lies in the database', async () => {
    const person = await test.person('K. O.');
    const first = await write(await askFor(person));
    const second = await write(await askFor(person));
    const token = second.link.split('/').at(-1)!;
    const rows = JSON.stringify([
      await test.deps.prisma.passwordReset.findMany({}),
      await test.deps.prisma.letter.findMany({}),
    ]);
    expect(rows).not.toContain(token);
    await test.visitor().post(second.link, { password: 'five other words in row' });
    expect((await test.visitor().get(first.link)).statusCode).toBe(404);
  });

  it('of two who use one link at once, one succeeds', async () => {
    const person = await test.person('K. O.');
    const { link } = await write(await askFor(person));
    const answers = await Promise.all(
      ['first password in a row', 'second password in a row'].map((password) =>
        test.visitor().post(link, { password }),
      ),
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 404]);
  });

  it('a link is good for an hour, and a letter that comes too late is not sent', async () => {
    const person = await test.person('K. O.');
    const { link } = await write(await askFor(person));
    const other = await askFor(person);
    await test.deps.prisma.passwordReset.updateMany({
      where: { personId: person.personId },
      data: { expiresAt: new Date(Date.now() - 1) },
    });
    expect((await test.visitor().get(link)).statusCode).toBe(404);
    expect((await write(other)).words).toBeNull();
  });

  it('nobody fills a mailbox, and a letter tried again has a link that works', async () => {
    const person = await test.person('K. O.');
    const letterId = await askFor(person);
    const lost = await write(letterId);
    const kept = await write(letterId);
    expect((await test.visitor().get(lost.link)).statusCode).toBe(404);
    expect((await test.visitor().get(kept.link)).statusCode).toBe(200);
    const { requestReset } = await import('../../src/people/resets/service.ts');
    const email = await emailOf(person);
    for (let i = 0; i < 6; i += 1) await requestReset(test.deps, email);
    expect(await lettersTo('new-password', { personId: person.personId })).toHaveLength(3);
  });
});

describe('an invitation by letter', () => {
  async function inviteTo(fields: Record<string, string>) {
    const contractor = await test.person('R. T.');
    const { projectId } = await createProject(test.deps, contractor, {
      name: 'Den wall',
      address: '1 Row',
      jurisdiction: 'Town',
      permitNumber: '',
      timeZone: 'America/Phoenix',
    });
    const answer = await contractor.post(`/projects/${projectId}/invitations`, {
      role: 'engineer',
      label: 'K. O.',
      ...fields,
    });
    return { contractor, projectId, answer };
  }

  it('brings its reader into the project; the page shows no link', async () => {
    const { contractor, projectId, answer } = await inviteTo({ email: 'new@example.org' });
    expect(answer.statusCode).toBe(303);
    const page = await contractor.get(`/projects/${projectId}/people`);
    expect(page.body).toContain('on its way to new@example.org');
    expect(page.body).not.toContain('/invitations/ey');
    const [letter] = await lettersTo('invitation', { toAddress: 'new@example.org' });
    const { words, link } = await write(letter!.id);
    expect(words!.to.address).toBe('new@example.org');
    expect(words!.text).toContain('R. T. invites you to “Den wall” as its engineer');
    // By the clock of the house, which never saves daylight.
    expect(words!.text).toMatch(/works once, until [A-Z][a-z]{2} \d+, \d{4}, \d+:\d\d [AP]M MST:/);
    expect(words!.html).toContain(' MST.');
    const reader = await test.person('K. O.');
    expect((await reader.get(link)).statusCode).toBe(200);
    expect((await reader.post(link)).statusCode).toBe(303);
    const membership = await test.deps.prisma.membership.findFirst({
      where: { projectId, personId: reader.personId },
    });
    expect(membership?.role).toBe('engineer');
  });

  it('that is withdrawn before the letter left is not sent', async () => {
    const { contractor, projectId } = await inviteTo({ email: 'late@example.org' });
    const { id } = await test.deps.prisma.invitation.findFirstOrThrow({ where: { projectId } });
    await contractor.post(`/projects/${projectId}/invitations/${id}/withdrawal`);
    const [letter] = await lettersTo('invitation', { toAddress: 'late@example.org' });
    expect((await write(letter!.id)).words).toBeNull();
  });

  it('refuses what is no address at the field; without one the link is shown as before', async () => {
    const wrong = await inviteTo({ email: 'a@example.org\r\nBcc: b@example.org' });
    expect(wrong.answer.statusCode).toBe(422);
    expect(wrong.answer.body).toContain('Enter an e-mail address');
    const shown = await inviteTo({ email: '' });
    expect(shown.answer.body).toMatch(/record\.example\.test\/invitations\//);
  });
});
