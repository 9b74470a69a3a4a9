import type { FasteningRow } from './row.ts';

function inches(value: number): string {
  return String(Number(value.toFixed(3)));
}

/** '1 bolt', '8 nails': a bare number before "in" reads as inches. */
export function countedFasteners(fastener: Pick<FasteningRow['fastener'], 'kind'>, count: number): string {
  return `${count} ${fastener.kind}${count === 1 ? '' : 's'}`;
}

/** '2 rows at 12 in, staggered, driven from both sides' or '4 nails in 2 rows': the pattern as a schedule says it. */
export function patternText(row: FasteningRow): string {
  const { pattern } = row;
  const rows = `${pattern.rows} row${pattern.rows === 1 ? '' : 's'}`;
  const parts =
    pattern.kind === 'count'
      ? [countedFasteners(row.fastener, pattern.count) + (pattern.rows === 1 ? '' : ` in ${rows}`)]
      : [`${rows} at ${inches(pattern.spacingIn)} in`];
  if (pattern.staggered) parts.push('staggered');
  parts.push(row.driven === 'one side' ? 'driven from one side' : `driven from ${row.driven}`);
  if (row.prebored) parts.push('pre-bored');
  return parts.join(', ');
}
