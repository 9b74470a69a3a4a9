import type { PrismaClient } from '../../database/generated/client.ts';
import type { Words } from './message.ts';
import { newsLetter } from './news-letter.ts';
import type { LetterRow } from './send.ts';

export interface LetterDeps {
  readonly prisma: PrismaClient;
  readonly config: { readonly publicUrl: string };
  /** The key that signs stop links. */
  readonly secret: string;
}

/** The words of every kind of letter, made right before it is sent. */
export function lettersOf({ prisma, config, secret }: LetterDeps): (row: LetterRow) => Promise<Words | null> {
  return async (row) => {
    switch (row.kind) {
      case 'news':
      case 'daily':
        return newsLetter(prisma, { publicUrl: config.publicUrl, secret }, row);
      default:
        throw new Error(`No letter is called ${row.kind}.`);
    }
  };
}
