import type { Typed } from '../../web/forms/spec.ts';

/** Boxes that are not part of the content begin with an underscore; `do` is the button that was pressed. */
const meta = (name: string) => name.startsWith('_') || name === 'do';

/** What is written in words about a version, beside its content: kept in a draft, too. */
const written: ReadonlySet<string> = new Set(['_reason', '_title', '_key']);

export function contentBoxes(typed: Typed): Record<string, string> {
  return Object.fromEntries(Object.entries(typed).filter(([name]) => !meta(name)));
}

/** All that a person typed into the form of an item: nothing of it is to be typed twice. */
export function draftBoxes(typed: Typed): Record<string, string> {
  return Object.fromEntries(Object.entries(typed).filter(([name]) => !meta(name) || written.has(name)));
}

export function isTyped(body: unknown): body is Typed {
  return (
    typeof body === 'object' &&
    body !== null &&
    Object.values(body).every((value) => typeof value === 'string')
  );
}

/** Boxes handed over in the address, by the search for beams: texts, as if they had been typed. */
export function readFill(text: string | undefined): Typed | null {
  if (text === undefined || text.length > 4000) return null;
  try {
    const boxes: unknown = JSON.parse(text);
    return isTyped(boxes) ? contentBoxes(boxes) : null;
  } catch {
    return null;
  }
}
