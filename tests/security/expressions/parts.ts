/**
 * The parts of a regular expression that decide what it can be made to try again: sets of characters, one after
 * another, by choice, and repeated. Assertions count as what they look at (ECMA-262, 22.2.1 Patterns).
 */
export type Part =
  | { readonly is: 'set'; readonly source: string }
  | { readonly is: 'nothing' }
  | { readonly is: 'row'; readonly parts: readonly Part[] }
  | { readonly is: 'choice'; readonly parts: readonly Part[] }
  | { readonly is: 'repeated'; readonly part: Part; readonly least: number; readonly most: number };

/** @throws where a bracket is left open: no expression that the engine took */
export function partsOf(source: string): Part {
  const reader = new Reader(source);
  const whole = reader.choice();
  if (!reader.atEnd) throw new Error(`read up to ${String(reader.at)} of /${source}/`);
  return whole;
}

/**
 * The same expression with an assertion behind each set that always holds. V8 goes back over a plain `\\s+` in one
 * loop that it does not count; over this one it counts every sign.
 *
 * @throws as `partsOf`
 */
export function countable(source: string): string {
  const reader = new Reader(source);
  reader.choice();
  return reader.sets.reduceRight(
    (words, { from, to }) => `${words.slice(0, from)}(?:${words.slice(from, to)}(?=))${words.slice(to)}`,
    source,
  );
}

const NOTHING: Part = { is: 'nothing' };
/** `(?:`, `(?=`, `(?!`, `(?<=`, `(?<!`, `(?<name>`. */
const GROUP_HEAD = /^\((?:\?(?:[:=!]|<[=!]|<\w+>))?/;
const ESCAPE =
  /^\\(?:u\{[^}]*\}|u[0-9a-fA-F]{4}|x[0-9a-fA-F]{2}|[pP]\{[^}]*\}|k<\w+>|[1-9]\d*|c[A-Za-z]|[^])/;
const CLASS = /^\[(?:\\[^]|[^\]\\])*\]/;
const QUANTIFIER = /^(?:([*+?])|\{(\d+)(,?)(\d*)\})\??/;

class Reader {
  at = 0;
  readonly sets: { readonly from: number; readonly to: number }[] = [];

  private readonly source: string;

  constructor(source: string) {
    this.source = source;
  }

  get atEnd(): boolean {
    return this.at >= this.source.length;
  }

  choice(): Part {
    const parts = [this.row()];
    while (this.source[this.at] === '|') {
      this.at += 1;
      parts.push(this.row());
    }
    return { is: 'choice', parts };
  }

  private row(): Part {
    const parts: Part[] = [];
    while (!this.atEnd && this.source[this.at] !== '|' && this.source[this.at] !== ')') {
      parts.push(this.quantified(this.atom()));
    }
    return { is: 'row', parts };
  }

  private atom(): Part {
    const sign = this.source[this.at];
    if (sign === '(') {
      this.take(GROUP_HEAD);
      const inside = this.choice();
      if (this.source[this.at] !== ')') throw new Error(`an open bracket in /${this.source}/`);
      this.at += 1;
      return inside;
    }
    if (sign === '\\' && /^\\(?:[bB1-9]|k<)/.test(this.source.slice(this.at))) {
      this.take(ESCAPE);
      return NOTHING;
    }
    if (sign === '^' || sign === '$') {
      this.at += 1;
      return NOTHING;
    }
    const from = this.at;
    const source = this.take(sign === '[' ? CLASS : sign === '\\' ? ESCAPE : /^[^]/u);
    this.sets.push({ from, to: this.at });
    return { is: 'set', source };
  }

  private quantified(part: Part): Part {
    const match = QUANTIFIER.exec(this.source.slice(this.at));
    if (match === null) return part;
    this.at += match[0].length;
    const [, sign, from, comma, to] = match;
    if (sign !== undefined) {
      return { is: 'repeated', part, least: sign === '+' ? 1 : 0, most: sign === '?' ? 1 : Infinity };
    }
    const least = Number(from);
    const most = comma === '' ? least : to === '' ? Infinity : Number(to);
    return { is: 'repeated', part, least, most };
  }

  private take(pattern: RegExp): string {
    const taken = pattern.exec(this.source.slice(this.at))?.[0];
    if (taken === undefined) throw new Error(`unread at ${String(this.at)} of /${this.source}/`);
    this.at += taken.length;
    return taken;
  }
}
