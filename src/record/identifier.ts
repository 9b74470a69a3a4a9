import { NotFound } from '../problems.ts';

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** An id from an address or a form. What can't be an id can't be found, and never reaches the database. */
export function knownId(id: string, what: string): string {
  const lower = id.toLowerCase();
  if (!UUID.test(lower)) throw new NotFound(what);
  return lower;
}
