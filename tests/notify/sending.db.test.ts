import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { folderCarrier } from '../../src/notify/mail/folder-carrier.ts';
import { sendLetter } from '../../src/notify/mail/send.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { freePort } from '../support/running-server.ts';
import { readLetter, startMailServer, type MailServer } from './support/mail-server.ts';
import { readyLetter, sendDeps, testPublicUrl } from './support/sending.ts';

let database: FreshDatabase;
let mail: MailServer;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());
beforeEach(async () => {
  mail = await startMailServer();
});
afterEach(() => mail.close());

const letter = (id: string) => database.prisma.letter.findUniqueOrThrow({ where: { id } });

describe('a letter over SMTP', () => {
  it('goes to its person, as text and HTML, with a Message-ID from its row', async () => {
    const { letterId, email, projectId } = await readyLetter(database.prisma);
    const sent = await sendLetter(sendDeps(database.prisma, mail.url), letterId);
    expect(sent).toEqual({ is: 'settled', state: 'sent', problem: '' });
    expect(mail.received).toHaveLength(1);
    const [one] = mail.received;
    expect(one!.to).toEqual([email]);
    expect(one!.messageId).toBe(`<${letterId}@record.example.test>`);
    const { headers, text, html } = readLetter(one!.source);
    expect(headers).toMatch(/^From: Lintelbook <record@example.test>$/m);
    expect(headers).toMatch(/^Subject: Cinder Ferry: R\. T\. handed over 6 items for your review\.$/m);
    expect(headers).toMatch(/^Auto-Submitted: auto-generated$/m);
    for (const body of [text, html]) {
      expect(body).toContain('R. T. handed over 6 items for your review.');
      expect(body).toContain(`${testPublicUrl}/projects/${projectId}`);
      expect(body).toContain('Not a sealed document.');
    }
    expect((await letter(letterId)).state).toBe('sent');
  });

  it('says when it happened by the clock of each house', async () => {
    const { letterId, personId, projectId } = await readyLetter(database.prisma);
    const at = new Date('2026-05-10T01:05:00Z');
    await database.prisma.project.update({
      where: { id: projectId },
      data: { timeZone: 'America/Los_Angeles' },
    });
    const eastern = await readyLetter(database.prisma, { projectName: 'Another house' });
    await database.prisma.membership.create({
      data: { projectId: eastern.projectId, personId, role: 'engineer' },
    });
    await database.prisma.project.update({
      where: { id: eastern.projectId },
      data: { timeZone: 'America/New_York' },
    });
    await database.prisma.news.updateMany({ where: { projectId }, data: { createdAt: at } });
    await database.prisma.news.updateMany({
      where: { projectId: eastern.projectId },
      data: { createdAt: at, letterId, personId },
    });
    await sendLetter(sendDeps(database.prisma, mail.url), letterId);
    const { text, html } = readLetter(mail.received[0]!.source);
    for (const body of [text, html]) {
      expect(body).toContain('May 9, 2026, 6:05 PM PDT');
      expect(body).toContain('May 9, 2026, 9:05 PM EDT');
    }
  });

  it('is not sent a second time, however often it is asked for', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url);
    await Promise.all([1, 2, 3, 4].map(() => sendLetter(deps, letterId)));
    await sendLetter(deps, letterId);
    expect(mail.received).toHaveLength(1);
  });

  it.each([
    ['the recipient', 'recipient', 451],
    ['the letter', 'letter', 452],
  ] as const)('is tried again where the server refuses %s for now', async (_, at, code) => {
    const { letterId } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url);
    mail.meet({ at, code, times: 1 });
    expect(await sendLetter(deps, letterId)).toMatchObject({ is: 'later' });
    expect(await letter(letterId)).toMatchObject({ state: 'ready', attempts: 1 });
    expect(mail.received).toHaveLength(0);
    expect(await sendLetter(deps, letterId)).toMatchObject({ state: 'sent' });
    expect(mail.received).toHaveLength(1);
  });

  it('is given up where the server refuses it for good, and says why', async () => {
    const { letterId } = await readyLetter(database.prisma);
    mail.meet({ at: 'recipient', code: 550, times: 1 });
    await sendLetter(sendDeps(database.prisma, mail.url), letterId);
    const row = await letter(letterId);
    expect(row).toMatchObject({ state: 'failed' });
    expect(row.problem).toContain('550');
    expect(row.settledAt).not.toBeNull();
  });

  it('is given up after the last attempt', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url, { attempts: 2 });
    mail.meet({ at: 'letter', code: 451, times: 5 });
    expect(await sendLetter(deps, letterId)).toMatchObject({ is: 'later' });
    expect(await sendLetter(deps, letterId)).toMatchObject({ state: 'failed' });
  });

  it('waits where nobody listens', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const port = await freePort();
    expect(await sendLetter(sendDeps(database.prisma, `smtp://127.0.0.1:${port}`), letterId)).toMatchObject({
      is: 'later',
    });
    expect(await letter(letterId)).toMatchObject({ state: 'ready' });
  });

  it('waits where the server accepts the connection and says nothing', async () => {
    const silent = createServer(() => undefined);
    const port = await freePort();
    await new Promise<void>((resolve) => {
      silent.listen(port, '127.0.0.1', resolve);
    });
    const { letterId } = await readyLetter(database.prisma);
    expect(await sendLetter(sendDeps(database.prisma, `smtp://127.0.0.1:${port}`), letterId)).toMatchObject({
      is: 'later',
    });
    silent.close();
  });

  it('is unsure, and not sent again by itself, where the server takes it and never answers', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url);
    let release: () => void = () => undefined;
    mail.holdAnswers(
      new Promise((resolve) => {
        release = resolve;
      }),
    );
    expect(await sendLetter(deps, letterId)).toMatchObject({ is: 'settled', state: 'unsure' });
    mail.holdAnswers(null);
    await sendLetter(deps, letterId);
    expect(mail.received).toHaveLength(1);
    release();
  });

  it('signs in, never says the password, and treats a refused sign-in as something to be put right', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const wrong = mail.url.replace('smtp://', 'smtp://sender:wr0ng-secret@');
    const sent = await sendLetter(sendDeps(database.prisma, wrong), letterId);
    expect(sent).toMatchObject({ is: 'later' });
    expect((await letter(letterId)).problem).not.toContain('wr0ng-secret');
    const right = mail.url.replace('smtp://', 'smtp://sender:right@');
    await sendLetter(sendDeps(database.prisma, right), letterId);
    expect(mail.received[0]!.authenticatedAs).toBe('sender');
  });
});

describe('a sender that ended', () => {
  const long = { leaseMs: 1_000 };
  it('before anything left it: the letter is taken over after the lease', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const claimedAt = new Date(Date.now() - 5_000);
    await database.prisma.letter.update({
      where: { id: letterId },
      data: { state: 'claimed', attempts: 1, claimedAt },
    });
    expect(
      await sendLetter(sendDeps(database.prisma, mail.url, { leaseMs: 60_000 }), letterId),
    ).toMatchObject({ is: 'later' });
    expect(mail.received).toHaveLength(0);
    expect(await sendLetter(sendDeps(database.prisma, mail.url, long), letterId)).toMatchObject({
      state: 'sent',
    });
    expect(mail.received).toHaveLength(1);
  });

  it('while it was handed over: nobody knows, and it is not sent a second time', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const claimedAt = new Date(Date.now() - 5_000);
    await database.prisma.letter.update({
      where: { id: letterId },
      data: { state: 'handing_over', attempts: 1, claimedAt },
    });
    expect(await sendLetter(sendDeps(database.prisma, mail.url, long), letterId)).toMatchObject({
      state: 'unsure',
    });
    expect(mail.received).toHaveLength(0);
  });

  it('slow, not ended: what it claimed was taken over, and it hands nothing over any more', async () => {
    const { letterId } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url);
    const slow = sendDeps(database.prisma, mail.url, {
      carrier: {
        async carry(prepared, handingOver) {
          await database.prisma.letter.update({
            where: { id: letterId },
            data: { claimedAt: new Date(Date.now() - 120_000) },
          });
          await sendLetter(deps, letterId);
          return deps.carrier.carry(prepared, handingOver);
        },
      },
    });
    await sendLetter(slow, letterId);
    expect(mail.received).toHaveLength(1);
    expect((await letter(letterId)).state).toBe('sent');
  });
});

describe('what people write', () => {
  it('can’t add a header, a recipient or markup', async () => {
    const { letterId, email } = await readyLetter(database.prisma, {
      name: 'Eve\r\nBcc: victim@example.test',
      projectName: 'House\r\nX-Evil: yes\u2028',
      line: 'K. O. asks: “<script>alert(1)</script> & more\r\nSubject: other”',
    });
    await sendLetter(sendDeps(database.prisma, mail.url), letterId);
    const [one] = mail.received;
    expect(one!.to).toEqual([email]);
    const { headers, text, html } = readLetter(one!.source);
    expect(headers).not.toMatch(/^Bcc:/im);
    expect(headers).not.toMatch(/^X-Evil:/im);
    expect(headers.match(/^Subject:/gim)).toHaveLength(1);
    expect(html).not.toContain('<script>');
    expect(html).toContain('&lt;script&gt;');
    // Plain text stays what was written.
    expect(text).toContain('<script>alert(1)</script> & more');
  });

  it('an address that is none is given up, not tried for ever', async () => {
    const { letterId, personId } = await readyLetter(database.prisma);
    for (const address of ['two@example.test,three@example.test', 'a@example.test\r\nRCPT TO:<b@c.test>']) {
      await database.prisma.person.update({ where: { id: personId }, data: { email: address } });
      await database.prisma.letter.update({
        where: { id: letterId },
        data: { state: 'ready', settledAt: null },
      });
      expect(await sendLetter(sendDeps(database.prisma, mail.url), letterId)).toMatchObject({
        state: 'failed',
      });
    }
    expect(mail.received).toHaveLength(0);
  });
});

describe('who has left meanwhile', () => {
  it.each(['removed', 'has another role', 'wants none', 'has closed the account'])(
    'a person who %s gets nothing',
    async (what) => {
      const { letterId, personId, projectId } = await readyLetter(database.prisma);
      const membership = { where: { projectId, personId } };
      if (what === 'removed')
        await database.prisma.membership.updateMany({ ...membership, data: { revokedAt: new Date() } });
      if (what === 'has another role')
        await database.prisma.membership.updateMany({ ...membership, data: { role: 'owner' } });
      if (what === 'wants none')
        await database.prisma.person.update({ where: { id: personId }, data: { mailChoice: 'none' } });
      if (what === 'has closed the account')
        await database.prisma.person.update({ where: { id: personId }, data: { closedAt: new Date() } });
      expect(await sendLetter(sendDeps(database.prisma, mail.url), letterId)).toMatchObject({
        state: 'dropped',
      });
      expect(mail.received).toHaveLength(0);
    },
  );
});

describe('without a mail server', () => {
  it('letters become files that can be read', async () => {
    const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-mail-'));
    const { letterId, email } = await readyLetter(database.prisma);
    const deps = sendDeps(database.prisma, mail.url, { carrier: folderCarrier(path.join(folder, 'mail')) });
    await sendLetter(deps, letterId);
    await sendLetter(deps, letterId);
    expect(await readdir(path.join(folder, 'mail'))).toEqual([`${letterId}.eml`]);
    const source = await readFile(path.join(folder, 'mail', `${letterId}.eml`), 'utf8');
    expect(source).toContain(`To: "K. O." <${email}>`);
    expect(source).toContain('handed over 6 items');
    await rm(folder, { recursive: true });
  });
});
