import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';

/** PNG chunks by hand (PNG third edition, 5.3), to make pictures that no library would write. */
function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crcOf(body), body.length + 4);
  return out;
}

/** CRC-32 of PNG, annex D. */
function crcOf(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

/** A picture of a few kilobytes that says it is `side` × `side` pixels, all of one colour, and really is. */
export function pngBomb(side: number): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(side, 0);
  head.writeUInt32BE(side, 4);
  head.set([1, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((Math.ceil(side / 8) + 1) * side);
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** A stored-only ZIP header with a deflated gigabyte announced: enough to be told by content. */
export function zipBomb(): Buffer {
  const packed = deflateSync(Buffer.alloc(8 * 1024 * 1024), { level: 9 }).subarray(2, -4);
  const head = Buffer.alloc(30);
  head.writeUInt32LE(0x04034b50, 0);
  head.writeUInt16LE(20, 4);
  head.writeUInt16LE(8, 8);
  head.writeUInt32LE(packed.length, 18);
  head.writeUInt32LE(0x3fffffff, 22);
  head.writeUInt16LE(1, 26);
  return Buffer.concat([head, Buffer.from('a'), packed]);
}

export function sha256Of(bytes: Buffer): string {
  return createHash('sha256').update(bytes).digest('hex');
}
