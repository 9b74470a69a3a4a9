import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient } from '../../src/database/generated/client.ts';

/** A statement as it was sent, with what was bound to it. */
export interface SentQuery {
  readonly sql: string;
  readonly values: readonly unknown[];
}

export interface CountingClient {
  readonly prisma: PrismaClient;
  /** What the work sent that reads or writes rows; transactions' own words are left out. */
  sentBy: (work: () => Promise<unknown>) => Promise<readonly SentQuery[]>;
  close: () => Promise<void>;
}

/** A client of the database that keeps what it sends, to be put in the place of the service's own. */
export function countingClient(databaseUrl: string): CountingClient {
  const prisma = new PrismaClient({
    adapter: new PrismaPg({ connectionString: databaseUrl }),
    log: [{ emit: 'event', level: 'query' }],
    transactionOptions: { maxWait: 30_000, timeout: 60_000 },
  });
  let sent: SentQuery[] = [];
  prisma.$on('query', ({ query, params }) => {
    if (/^\s*(SELECT|WITH|INSERT|UPDATE|DELETE)/i.test(query)) {
      sent.push({ sql: query, values: JSON.parse(params) as unknown[] });
    }
  });
  return {
    prisma,
    async sentBy(work) {
      sent = [];
      await work();
      return sent;
    },
    close: () => prisma.$disconnect(),
  };
}
