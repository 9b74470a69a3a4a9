import { createHash } from 'node:crypto';

/** Statements that are kept ready at most, in each connection: PostgreSQL holds the plan of each in memory. */
const MOST = 300;
/** A text that came so often will come again. */
const OFTEN = 4;
/** Texts that are counted at most before they come often. */
const COUNTED = 2_000;
/** A list of values of this length (`IN ($1, $2, ...)`) has a text of its own for every number of values. */
const MOST_VALUES = 40;
/** What PostgreSQL plans. BEGIN and COMMIT gain nothing by a name. */
const PLANNED = /^\s*(?:SELECT|WITH|INSERT|UPDATE|DELETE)\b/i;

/**
 * Names for statements that come again and again: PostgreSQL then reads and plans the text once for a connection, not
 * every time. No name ('') for a text that is rare, has a long list of values, or comes when enough are named.
 */
export function statementNames(): (query: {
  readonly sql: string;
  readonly args: readonly unknown[];
}) => string {
  const names = new Map<string, string>();
  const seen = new Map<string, number>();
  return ({ sql, args }) => {
    const known = names.get(sql);
    if (known !== undefined) return known;
    if (names.size >= MOST || args.length > MOST_VALUES || !PLANNED.test(sql)) return '';
    const times = (seen.get(sql) ?? 0) + 1;
    if (times < OFTEN) {
      if (seen.size >= COUNTED) seen.clear();
      seen.set(sql, times);
      return '';
    }
    seen.delete(sql);
    const name = `lintelbook ${createHash('sha256').update(sql).digest('base64url').slice(0, 32)}`;
    names.set(sql, name);
    return name;
  };
}
