/** One table of a font file: OpenType 1.9, "Organization of an OpenType Font". */
export interface FontTable {
  readonly tag: string;
  /** Where its entry stands in the list of tables. */
  readonly entry: number;
  readonly offset: number;
  readonly length: number;
}

const HEAD = 12;
const ENTRY = 16;

export function tablesOf(font: Buffer): readonly FontTable[] {
  return Array.from({ length: font.readUInt16BE(4) }, (_, at) => {
    const entry = HEAD + ENTRY * at;
    return {
      tag: font.toString('latin1', entry, entry + 4),
      entry,
      offset: font.readUInt32BE(entry + 8),
      length: font.readUInt32BE(entry + 12),
    };
  });
}

/** The font without some of its tables; what is left stands where it stood among the others, each at a multiple of four. */
export function withoutTables(font: Buffer, tags: readonly string[]): Buffer {
  const left = tablesOf(font).filter(({ tag }) => !tags.includes(tag));
  const directory = Buffer.alloc(HEAD + ENTRY * left.length);
  font.copy(directory, 0, 0, 4);
  const power = Math.floor(Math.log2(left.length));
  directory.writeUInt16BE(left.length, 4);
  directory.writeUInt16BE(ENTRY * 2 ** power, 6);
  directory.writeUInt16BE(power, 8);
  directory.writeUInt16BE(ENTRY * (left.length - 2 ** power), 10);
  const parts = [directory];
  let end = directory.length;
  for (const [at, { entry, offset, length }] of left.entries()) {
    font.copy(directory, HEAD + ENTRY * at, entry, entry + ENTRY);
    directory.writeUInt32BE(end, HEAD + ENTRY * at + 8);
    const padded = Buffer.alloc(4 * Math.ceil(length / 4));
    font.copy(padded, 0, offset, offset + length);
    parts.push(padded);
    end += padded.length;
  }
  return Buffer.concat(parts);
}
