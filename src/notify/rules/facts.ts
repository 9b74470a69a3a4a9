/** What a line needs beside the event itself, read in the event's transaction. Names are '' where there are none. */
export interface Facts {
  readonly projectId: string;
  readonly actorName: string;
  readonly openingId: string | null;
  readonly openingName: string;
  readonly itemId: string | null;
  readonly itemTitle: string;
  /** Of the version that was marked; null for other events. */
  readonly versionNumber: number | null;
  /** The kind of the visit in plain words, as 'framing'. */
  readonly visitKind: string;
  /** Days of the work that a plan moved, a sentence for each, in words for the owner; none for other events. */
  readonly movedDays: readonly string[];
}

/** One line for one person: what happened, by whom, and where to look. */
export interface Told {
  readonly line: string;
  /** From the service's root. */
  readonly path: string;
}

/** A line of mail holds a sentence, not a report; whole texts are behind the link. */
const LONGEST_QUOTE = 140;

/** User's words inside a line: on one line, shortened, in quotation marks. */
export function quoted(words: string): string {
  const plain = oneLine(words);
  return `“${plain.length > LONGEST_QUOTE ? `${plain.slice(0, LONGEST_QUOTE - 1).trimEnd()}…` : plain}”`;
}

/**
 * Text that can stand in a header or on one line: every control character, line and paragraph separator becomes a
 * space, so that what people write cannot begin a line of its own.
 */
export function oneLine(words: string): string {
  return words
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(/ {2,}/g, ' ')
    .trim();
}
