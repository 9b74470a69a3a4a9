import { z } from 'zod';
import { NotFound } from '../problems.ts';
import { knownId } from './identifier.ts';

/** The last row of a page that is ordered by time, then by id: where the next page begins. */
export interface TimeCursor {
  readonly at: Date;
  readonly id: string;
}

/**
 * A cursor as an address brings it: one short text. What is none of this program's, or came twice, becomes a text that
 * no reader below knows, so that there is one answer to all of them.
 */
export const cursorText = z.string().min(1).max(600).optional().catch('?');

/** At most nine digits to base 36: a time that every database can hold. */
const TIME = /^[0-9a-z]{1,9}$/;

export function writeTimeCursor(at: Date, id: string): string {
  return `${at.getTime().toString(36)}.${id}`;
}

/** @throws NotFound for an address that this program did not write. */
export function readTimeCursor(text: string): TimeCursor {
  const [time = '', id = '', ...rest] = text.split('.');
  if (!TIME.test(time) || rest.length > 0) throw new NotFound('That page');
  return { at: new Date(parseInt(time, 36)), id: knownId(id, 'That page') };
}

/** The last number of a page that is ordered by number. @throws NotFound for what is no such number. */
export function readNumberCursor(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new NotFound('That page');
  return Number(text);
}
