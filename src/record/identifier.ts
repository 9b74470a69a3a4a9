import { NotFound } from '../problems.ts';

/** A UUID as PostgreSQL writes it. */
export const ID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

export function isId(text: string): boolean {
  return ID.test(text);
}

/** An id from an address or a form. What can't be an id can't be found, and never reaches the database. */
export function knownId(id: string, what: string): string {
  const lower = id.toLowerCase();
  if (!isId(lower)) throw new NotFound(what);
  return lower;
}
