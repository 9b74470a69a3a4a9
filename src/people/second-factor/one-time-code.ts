import { createHmac, timingSafeEqual } from 'node:crypto';

/** RFC 6238 section 5.2 recommends it. */
export const STEP_SECONDS = 30;
const DIGITS = 6;

/** How many whole steps have passed since 1970 (RFC 6238 section 4.2, T0 = 0). */
export function stepAt(time: Date): number {
  return Math.floor(time.getTime() / 1000 / STEP_SECONDS);
}

/**
 * The code of one step: RFC 4226 section 5.3 with HMAC-SHA-1, the step as its counter (RFC 6238 section 4.2). SHA-1 is
 * what every program that makes such codes can do; as the hash of an HMAC it stands.
 */
export function codeOf(key: Uint8Array, step: number, digits = DIGITS): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const mac = createHmac('sha1', key).update(counter).digest();
  // Dynamic truncation: the last four bits say where the 31 bits begin.
  const offset = mac.readUInt8(mac.length - 1) & 15;
  const truncated = mac.readUInt32BE(offset) & 0x7fff_ffff;
  return String(truncated % 10 ** digits).padStart(digits, '0');
}

/**
 * The step of this time, where the typed code is its own; null where it is not, or where that step is not after the
 * last one that was used (RFC 6238 section 5.2: each code once). A code is good for its own 30 seconds and no longer
 * (OWASP ASVS 5.0, 6.5.5): the step before, which RFC 6238 lets count for slow lines, does not, nor does the one after.
 */
export function stepOfCode(
  key: Uint8Array,
  typed: string,
  time: Date,
  lastStep: number | null,
): number | null {
  const given = Buffer.from(typed);
  const step = stepAt(time);
  const code = Buffer.from(codeOf(key, step));
  const same = given.length === code.length && timingSafeEqual(given, code);
  return same && step > (lastStep ?? -1) ? step : null;
}

/**
 * What a program that makes codes reads from the picture: the `otpauth` address that such programs agree on (common
 * practice; no standard names it). It holds the secret.
 */
export function setupAddress(issuer: string, account: string, secretBase32: string): string {
  const query = new URLSearchParams({
    secret: secretBase32,
    issuer,
    algorithm: 'SHA1',
    digits: String(DIGITS),
    period: String(STEP_SECONDS),
  });
  // A space as %20: some programs show the plus sign.
  const label = `${encodeURIComponent(issuer)}:${encodeURIComponent(account)}`;
  return `otpauth://totp/${label}?${query.toString().replaceAll('+', '%20')}`;
}
