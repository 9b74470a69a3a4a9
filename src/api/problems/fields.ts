import type { z } from 'zod';
import { WrongFields, type WrongField } from './refusals.ts';

/** A path as the URI fragment form of a JSON Pointer (RFC 6901): ['rows', 0, 'a/b'] → '#/rows/0/a~1b'. */
export function pointerTo(path: readonly PropertyKey[]): string {
  return `#${path
    .map((part) => `/${encodeURIComponent(String(part).replaceAll('~', '~0').replaceAll('/', '~1'))}`)
    .join('')}`;
}

/** A dotted path of a form or of the engine, below a place in the body. */
export function pointerOf(dotted: string, below: readonly string[] = []): string {
  return pointerTo([...below, ...dotted.split('.').filter((part) => part !== '')]);
}

/** No answer lists more: a body of ten thousand wrong rows is not answered with ten thousand lines. */
const MOST = 100;

export function invalidFrom(
  issues: readonly Pick<z.core.$ZodIssue, 'path' | 'message'>[],
  where: 'body' | 'query',
): WrongFields {
  return new WrongFields(
    issues
      .slice(0, MOST)
      .map(({ path, message }): WrongField =>
        where === 'body'
          ? { pointer: pointerTo(path), detail: message }
          : { parameter: String(path[0] ?? ''), detail: message },
      ),
  );
}
