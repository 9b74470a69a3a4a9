import { randomUUID } from 'node:crypto';
import type { PrismaClient } from '../../../src/database/generated/client.ts';
import type { Carrier } from '../../../src/notify/mail/carrier.ts';
import { lettersOf } from '../../../src/notify/mail/letters.ts';
import type { SendDeps } from '../../../src/notify/mail/send.ts';
import { smtpCarrier } from '../../../src/notify/mail/smtp-carrier.ts';

export const testSecret = 'a secret of the tests, long enough';
export const testPublicUrl = 'https://record.example.test';

/** Short, so that a server that says nothing is found out within a test. */
export const impatient = { connectMs: 2_000, greetingMs: 2_000, silenceMs: 2_000 };

export function sendDeps(
  prisma: PrismaClient,
  smtpUrl: string,
  extra: Partial<SendDeps> & { readonly carrier?: Carrier } = {},
): SendDeps {
  return {
    prisma,
    clock: () => new Date(),
    carrier: smtpCarrier(smtpUrl, impatient),
    sender: {
      from: { name: 'Lintelbook', address: 'record@example.test' },
      publicUrl: testPublicUrl,
    },
    write: lettersOf({
      prisma,
      clock: () => new Date(),
      config: { publicUrl: testPublicUrl },
      secret: testSecret,
    }),
    leaseMs: 60_000,
    attempts: 3,
    ...extra,
  };
}

/** A person with one line of news and the letter that carries it, ready to be sent. */
export async function readyLetter(
  prisma: PrismaClient,
  words: { readonly name?: string; readonly line?: string; readonly projectName?: string } = {},
): Promise<{ letterId: string; personId: string; email: string; projectId: string }> {
  const email = `${randomUUID()}@example.test`;
  const { id: personId } = await prisma.person.create({
    data: { name: words.name ?? 'K. O.', email, passwordHash: 'unused' },
  });
  const { id: projectId } = await prisma.project.create({
    data: {
      name: words.projectName ?? 'Cinder Ferry',
      address: '12 Row',
      jurisdiction: 'Town',
      createdById: personId,
    },
  });
  await prisma.membership.create({ data: { projectId, personId, role: 'engineer' } });
  const { id: letterId } = await prisma.letter.create({
    data: { key: `test ${randomUUID()}`, kind: 'news', personId },
  });
  await prisma.news.create({
    data: {
      projectId,
      seq: 1,
      personId,
      role: 'engineer',
      line: words.line ?? 'R. T. handed over 6 items for your review.',
      path: `/projects/${projectId}`,
      letterId,
    },
  });
  return { letterId, personId, email, projectId };
}
