/** RFC 4648 section 6: five bits a sign, no 0, 1, 8 or 9, so that it can be read from a screen and typed. */
const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** Without the padding, which programs that make codes do not want. */
export function toBase32(bytes: Uint8Array): string {
  let text = '';
  let held = 0;
  let bits = 0;
  for (const byte of bytes) {
    held = (held << 8) | byte;
    bits += 8;
    while (bits >= 5) {
      text += ALPHABET.charAt((held >>> (bits - 5)) & 31);
      bits -= 5;
    }
    held &= (1 << bits) - 1;
  }
  return bits > 0 ? text + ALPHABET.charAt((held << (5 - bits)) & 31) : text;
}

/** Bits that make no whole byte are dropped. @throws RangeError where a sign is none of the alphabet */
export function fromBase32(text: string): Buffer {
  const bytes: number[] = [];
  let held = 0;
  let bits = 0;
  for (const sign of text) {
    const value = ALPHABET.indexOf(sign);
    if (value < 0) throw new RangeError('That is not base32 (RFC 4648 section 6).');
    held = (held << 5) | value;
    bits += 5;
    if (bits >= 8) {
      bytes.push((held >>> (bits - 8)) & 255);
      bits -= 8;
    }
    held &= (1 << bits) - 1;
  }
  return Buffer.from(bytes);
}
