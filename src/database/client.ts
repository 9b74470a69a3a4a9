import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient } from './generated/client.ts';
import { parseDatabaseUrl } from './problems.ts';
import { statementNames } from './statement-names.ts';

export interface Database {
  readonly prisma: PrismaClient;
  /** Ends every connection. */
  close(): Promise<void>;
}

export interface DatabaseOptions {
  /** Connections at most. Default 10. */
  readonly connections?: number;
  /** Told of connections that break while idle; the pool replaces them by itself. */
  readonly onConnectionLost?: (error: Error) => void;
}

/**
 * Opens a pool of connections, none of them yet made.
 *
 * Waiting and working are both bounded. A statement is ended by PostgreSQL (10 s) before Prisma gives up
 * the transaction around it (20 s, see `inTransaction`): Prisma's own time limit, striking during COMMIT,
 * returns a connection to the pool twice.
 *
 * @throws StartProblem when the URL cannot be used.
 */
export function createDatabase(databaseUrl: string, options: DatabaseOptions = {}): Database {
  parseDatabaseUrl(databaseUrl);
  const adapter = new PrismaPg(
    {
      connectionString: databaseUrl,
      application_name: 'lintelbook',
      max: options.connections ?? 10,
      // Without it a request waits for a free connection for ever.
      connectionTimeoutMillis: 5_000,
      idleTimeoutMillis: 30_000,
      statement_timeout: 10_000,
      idle_in_transaction_session_timeout: 30_000,
    },
    {
      onPoolError: options.onConnectionLost ?? (() => undefined),
      statementNameGenerator: statementNames(),
    },
  );
  const prisma = new PrismaClient({ adapter, transactionOptions: { maxWait: 5_000, timeout: 20_000 } });
  return {
    prisma,
    close: () => prisma.$disconnect(),
  };
}
