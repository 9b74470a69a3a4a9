import type { PrismaClient } from '../../database/generated/client.ts';
import type { Clock } from '../../actor.ts';
import { isAccountNews } from '../../people/accounts/told.ts';
import { invitationLetter, newPasswordLetter } from './access-letters.ts';
import { accountLetter } from './account-letters.ts';
import type { Words } from './message.ts';
import { newsLetter } from './news-letter.ts';
import type { LetterRow } from './send.ts';

export interface LetterDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  readonly config: { readonly publicUrl: string };
  /** The key that signs stop links. */
  readonly secret: string;
}

/** The words of every kind of letter, made right before it is sent. */
export function lettersOf({
  prisma,
  clock,
  config,
  secret,
}: LetterDeps): (row: LetterRow) => Promise<Words | null> {
  return async (row) => {
    switch (row.kind) {
      case 'news':
      case 'daily':
        return newsLetter(prisma, { publicUrl: config.publicUrl, secret }, row);
      case 'new-password':
        return newPasswordLetter({ prisma, clock, publicUrl: config.publicUrl }, row);
      case 'invitation':
        return invitationLetter({ prisma, clock, publicUrl: config.publicUrl }, row);
      default:
        if (isAccountNews(row.kind)) return accountLetter({ prisma, publicUrl: config.publicUrl }, row);
        throw new Error(`No letter is called ${row.kind}.`);
    }
  };
}
