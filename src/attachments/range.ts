/** One byte range of RFC 9110, section 14; several at once are answered with the whole. */
export function parseRange(
  header: string | undefined,
  total: number,
): { start: number; end: number } | null | 'unsatisfiable' {
  const match = /^bytes=(\d*)-(\d*)$/.exec(header ?? '');
  if (match === null) return null;
  const [, first = '', last = ''] = match;
  if (first === '' && last === '') return null;
  if (first === '') {
    const length = Math.min(Number(last), total);
    return length === 0 ? 'unsatisfiable' : { start: total - length, end: total - 1 };
  }
  const start = Number(first);
  const end = last === '' ? total - 1 : Math.min(Number(last), total - 1);
  return start > end || start >= total ? 'unsatisfiable' : { start, end };
}
