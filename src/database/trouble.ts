import { DatabaseAway, DatabaseFull } from '../problems.ts';

/** The database does not answer (stopped, starting, out of connections, the line broke), or has no room for more. */
export type DatabaseTrouble = 'away' | 'full';

/**
 * SQLSTATE (PostgreSQL, appendix A): 57P01 to 57P03 a server that is stopped, crashed or starting; 53300 no connection
 * left; 57014 and 55P03 a statement or a lock that took longer than anybody waits. All of class 08 is about the
 * connection.
 */
const AWAY_STATES: ReadonlySet<string> = new Set(['57P01', '57P02', '57P03', '53300', '57014', '55P03']);
const DISK_FULL = '53100';
/** As the driver adapter names what has no SQLSTATE. */
const AWAY_KINDS: ReadonlySet<string> = new Set([
  'DatabaseNotReachable',
  'ConnectionClosed',
  'SocketTimeout',
  'TooManyConnections',
]);
/** Prisma's own: no connection, or no transaction, within the time that one waits for it. */
const AWAY_CODES: ReadonlySet<string> = new Set(['P1001', 'P1002', 'P1008', 'P1017', 'P2024', 'P2028']);
/** node-postgres gives these no code. */
const AWAY_WORDS =
  /^(Connection terminated|Client has encountered a connection error|timeout exceeded when trying to connect)/;
const DEEPEST = 6;

/**
 * Whether an error, however it was wrapped, means that the database could not be asked. What was under way is then kept
 * whole or not at all, and nobody knows which where the answer to a COMMIT was lost.
 *
 * @returns null for any other error: one that the database answered, or that never reached it.
 */
export function databaseTrouble(error: unknown): DatabaseTrouble | null {
  return troubleOf(error, 0);
}

/** The problem that such an error is to whoever waits for an answer; any other error as it is. */
export function asDatabaseProblem(error: unknown): unknown {
  const trouble = databaseTrouble(error);
  if (trouble === null) return error;
  return trouble === 'full' ? new DatabaseFull(error) : new DatabaseAway(error);
}

function troubleOf(error: unknown, depth: number): DatabaseTrouble | null {
  if (typeof error !== 'object' || error === null || depth > DEEPEST) return null;
  const { code, kind, originalCode, message, cause, meta } = error as Record<string, unknown>;
  // A driver's error repeats its state as `code`; a bare socket's belongs to whatever the socket was for.
  const state = typeof originalCode === 'string' ? originalCode : 'severity' in error ? code : undefined;
  if (state === DISK_FULL) return 'full';
  if (typeof state === 'string' && (AWAY_STATES.has(state) || state.startsWith('08'))) return 'away';
  if (typeof kind === 'string' && AWAY_KINDS.has(kind)) return 'away';
  const inside = troubleOf(cause, depth + 1) ?? troubleOf(adapterError(meta), depth + 1);
  if (inside !== null) return inside;
  if (typeof code === 'string' && AWAY_CODES.has(code)) return 'away';
  return typeof message === 'string' && AWAY_WORDS.test(message) ? 'away' : null;
}

function adapterError(meta: unknown): unknown {
  return typeof meta === 'object' && meta !== null
    ? (meta as Record<string, unknown>).driverAdapterError
    : undefined;
}
