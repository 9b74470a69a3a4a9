import { createHash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';

// The package is CommonJS with an `export default` typing: under ESM the function itself is what arrives.
const serialize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/**
 * Canonical JSON by RFC 8785 (JSON Canonicalization Scheme): one text for one value, whoever writes it.
 *
 * @throws TypeError for what JSON cannot carry: undefined, a function, NaN, an infinity, and strings with a lone
 * surrogate, which RFC 8785 section 3.2.2.2 asks to refuse.
 */
export function canonicalJson(value: unknown): string {
  let text: string | undefined;
  try {
    text = serialize(value);
  } catch (error) {
    throw new TypeError('This value has no canonical JSON.', { cause: error });
  }
  if (text === undefined) throw new TypeError('This value has no canonical JSON.');
  // Lone surrogates come out of JSON.stringify as escapes; whole text only ever escapes control characters.
  if (/(?<!\\)(?:\\\\)*\\ud[89a-f]/.test(text)) {
    throw new TypeError('A lone surrogate has no canonical JSON (RFC 8785, 3.2.2.2).');
  }
  return text;
}

/** Is this text the canonical form of what it says? A changed space is a changed record. */
export function isCanonical(text: string): boolean {
  try {
    return canonicalJson(JSON.parse(text) as unknown) === text;
  } catch {
    return false;
  }
}

/** SHA-256 (FIPS 180-4) of the UTF-8 bytes of a text, in lower-case hexadecimal. */
export function sha256Hex(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}
