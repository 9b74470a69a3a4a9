import type { FasteningRow } from './row.ts';

/**
 * The one end of the beam that a row is for; undefined where it is for both or does not say. Proposed rows say it by
 * their id, typed ones by the first word of their place: 'Left pack, jacks to one another'.
 */
export function endOfRow({ id, where }: Pick<FasteningRow, 'id' | 'where'>): 'left' | 'right' | undefined {
  const end = /-(left|right)$/.exec(id)?.[1] ?? /^(left|right)\b/i.exec(where)?.[1]?.toLowerCase();
  return end === 'left' || end === 'right' ? end : undefined;
}
