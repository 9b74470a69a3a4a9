import type { FasteningRow } from './row.ts';

function inches(value: number): string {
  return String(Number(value.toFixed(3)));
}

/** '2 rows at 12 in, staggered, driven from both sides' or '4 in 2 rows': the pattern as a schedule says it. */
export function patternText(row: FasteningRow): string {
  const { pattern } = row;
  const rows = `${pattern.rows} row${pattern.rows === 1 ? '' : 's'}`;
  const parts =
    pattern.kind === 'count'
      ? [pattern.rows === 1 ? String(pattern.count) : `${pattern.count} in ${rows}`]
      : [`${rows} at ${inches(pattern.spacingIn)} in`];
  if (pattern.staggered) parts.push('staggered');
  parts.push(row.driven === 'one side' ? 'driven from one side' : `driven from ${row.driven}`);
  if (row.prebored) parts.push('pre-bored');
  return parts.join(', ');
}
