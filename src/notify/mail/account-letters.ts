import type { PrismaClient } from '../../database/generated/client.ts';
import { accountNews, isAccountNews } from '../../people/accounts/told.ts';
import type { Words } from './message.ts';
import type { LetterRow } from './send.ts';
import { bodies } from './templates.ts';

/**
 * What happened to a person's own account. No choice of mail holds it back and nothing stops it: it is how they learn
 * that somebody else was there. It holds no secret, and no link that lets in by itself.
 */
export async function accountLetter(
  { prisma, publicUrl }: { readonly prisma: PrismaClient; readonly publicUrl: string },
  row: LetterRow,
): Promise<Words | null> {
  if (row.personId === null || !isAccountNews(row.kind)) return null;
  const person = await prisma.person.findUnique({
    where: { id: row.personId },
    select: { name: true, email: true, closedAt: true },
  });
  if (person?.closedAt !== null || person.email === null) return null;
  const { subject, sentence } = accountNews[row.kind];
  const data = {
    name: person.name,
    sentence,
    url: `${publicUrl}/forgotten-password`,
    account: `${publicUrl}/account`,
  };
  return {
    to: { name: person.name, address: person.email },
    subject,
    ...bodies('account-news', data),
    stopUrl: null,
  };
}
