import { randomUUID } from 'node:crypto';
import type { Prisma } from '../../database/generated/client.ts';

/** What a person is told about their own account, by a letter that no choice of mail holds back. */
export const accountNews = {
  'password-changed': {
    subject: 'Your password was changed',
    sentence: 'the password of your account was changed, and every session that was open has ended.',
  },
  'codes-on': {
    subject: 'One-time codes are on',
    sentence: 'your account asks a one-time code at each sign-in from now on.',
  },
  'codes-off': {
    subject: 'One-time codes are off',
    sentence: 'your account asks no one-time code any more: the password alone lets in.',
  },
  'recovery-codes': {
    subject: 'New recovery codes',
    sentence: 'new recovery codes were made for your account. The ones before are worth nothing now.',
  },
  'recovery-code-used': {
    subject: 'Somebody came in with a recovery code',
    sentence: 'somebody, probably you, signed in to your account with one of its recovery codes.',
  },
} as const;

export type AccountNews = keyof typeof accountNews;

export function isAccountNews(kind: string): kind is AccountNews {
  return Object.hasOwn(accountNews, kind);
}

/** Puts the letter into the outbox, in the transaction of what it tells of. */
export async function tellOfAccount(
  tx: Prisma.TransactionClient,
  personId: string,
  what: AccountNews,
  at: Date,
): Promise<void> {
  await tx.letter.create({ data: { key: `${what} ${randomUUID()}`, kind: what, personId, createdAt: at } });
}
