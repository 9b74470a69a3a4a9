import { z } from 'zod';
import { roles } from '../../people/roles.ts';
import { itemKinds } from '../../record/kinds/definition.ts';
import { ID } from '../../record/identifier.ts';

/** Pieces that several operations share. */
export const idSchema = z.string().regex(ID).meta({ format: 'uuid' });
export const timeSchema = z.iso.datetime();
export const hashSchema = z.string().regex(/^[0-9a-f]{64}$/);
export const roleSchema = z.enum(roles);
export const kindSchema = z.enum(itemKinds);

export const noQuery = z.strictObject({});
export const noParams = z.object({});
export const projectParams = z.object({ projectId: idSchema });
export const openingParams = z.object({ projectId: idSchema, openingId: idSchema });
export const itemParams = z.object({ projectId: idSchema, itemId: idSchema });
export const setParams = z.object({ projectId: idSchema, setId: idSchema });
export const visitParams = z.object({ projectId: idSchema, visitId: idSchema });

const MOST = 200;
const USUAL = 50;

export const limitSchema = z.coerce
  .number()
  .int()
  .min(1)
  .max(MOST)
  .default(USUAL)
  .describe('How many at most.');
const cursorText = 'The “next” of the page before.';
/** Lists that go on after a number. */
export const byNumber = z.strictObject({
  limit: limitSchema,
  after: z.coerce.number().int().min(0).max(2_000_000_000).optional().describe(cursorText),
});
/** Lists that go on after a text that only this service can read. */
export const byText = z.strictObject({
  limit: limitSchema,
  after: z.string().min(1).max(500).optional().describe(cursorText),
});

/** A page of a list, and where the next one begins. */
export function pageOf<Line extends z.ZodType, Next extends z.ZodType>(line: Line, next: Next) {
  return z.object({
    items: z.array(line),
    next: next.nullable().describe('Hand in as “after” for the next page; null on the last one.'),
  });
}

/** A page out of a list that is read whole, in its order, by a number that only grows or only falls along it. */
export function cut<Line>(
  lines: readonly Line[],
  numberOf: (line: Line) => number,
  { after, limit }: { readonly after?: number | undefined; readonly limit: number },
  order: 'up' | 'down',
): { items: Line[]; next: number | null } {
  const left = lines.filter((line) => {
    if (after === undefined) return true;
    return order === 'up' ? numberOf(line) > after : numberOf(line) < after;
  });
  const items = left.slice(0, limit);
  const last = items.at(-1);
  return { items, next: left.length > limit && last !== undefined ? numberOf(last) : null };
}
