import { setTimeout as wait } from 'node:timers/promises';
import type { Prisma, PrismaClient } from './generated/client.ts';

export interface RetryOptions {
  /** How often the closure is run at most. Default 6. */
  readonly attempts?: number;
}

export interface TransactionOptions extends RetryOptions {
  /** Default: PostgreSQL's read committed. */
  readonly isolation?: Prisma.TransactionIsolationLevel;
}

/** Milliseconds; above the pool's `statement_timeout`, see client.ts. */
const TRANSACTION_LIMIT_MS = 20_000;
const CONNECTION_LIMIT_MS = 5_000;

const FIRST_PAUSE_MS = 15;
const LONGEST_PAUSE_MS = 500;

/**
 * Runs a closure in one transaction, and the whole closure again when PostgreSQL gave up the transaction
 * because of another one (serialization failure, deadlock). The closure must therefore have no effect
 * outside the database, and must use only the `tx` it is given.
 */
export async function inTransaction<T>(
  prisma: PrismaClient,
  work: (tx: Prisma.TransactionClient) => Promise<T>,
  options: TransactionOptions = {},
): Promise<T> {
  return withRetry(
    () =>
      prisma.$transaction(work, {
        timeout: TRANSACTION_LIMIT_MS,
        maxWait: CONNECTION_LIMIT_MS,
        ...(options.isolation === undefined ? {} : { isolationLevel: options.isolation }),
      }),
    options,
  );
}

/**
 * Runs a closure again while it fails with a write conflict, after a pause that grows and is drawn at
 * random, so that two that collided do not collide again. The last error is passed on.
 */
export async function withRetry<T>(work: () => Promise<T>, options: RetryOptions = {}): Promise<T> {
  const attempts = options.attempts ?? 6;
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await work();
    } catch (error) {
      if (attempt >= attempts || !isWriteConflict(error)) throw error;
      const ceiling = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** attempt);
      await wait(Math.random() * ceiling);
    }
  }
}

/**
 * Whether PostgreSQL gave up a transaction for another one's sake: SQLSTATE 40001 or 40P01. It arrives in
 * three shapes: P2034 from a query of a model; P2010 from a raw query; and at COMMIT, without any code,
 * the driver adapter's own error.
 */
export function isWriteConflict(error: unknown): boolean {
  if (property(error, 'code') === 'P2034') return true;
  const cause = driverCause(error);
  if (property(cause, 'kind') === 'TransactionWriteConflict') return true;
  const state = property(cause, 'originalCode');
  return state === '40001' || state === '40P01';
}

/**
 * Whether a unique constraint or index refused a row; with a name, whether it was the one so named in the
 * database (the adapter does not pass on the columns).
 */
export function isUniqueViolation(error: unknown, constraintName?: string): boolean {
  const cause = driverCause(error);
  if (property(cause, 'originalCode') !== '23505') return false;
  return constraintName === undefined || property(property(cause, 'constraint'), 'index') === constraintName;
}

/** What the driver adapter reported, whether bare or inside one of Prisma's errors. */
function driverCause(error: unknown): unknown {
  const inside = property(property(error, 'meta'), 'driverAdapterError');
  return property(inside ?? error, 'cause');
}

function property(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined;
}
