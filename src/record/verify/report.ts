/** The first place where a project's record does not hold together. */
export interface Break {
  /** The table: 'event', 'version', 'finding', 'attachment' and so on. */
  readonly table: string;
  /** The row: an event's number, otherwise an id. */
  readonly row: string;
  /** What does not hold, for the person who has to look into it. */
  readonly sentence: string;
}

export interface VerifiedProject {
  readonly projectId: string;
  readonly events: number;
  readonly versions: number;
  readonly marks: number;
  readonly sets: number;
  /** The last line of the log; kept elsewhere, it shows later whether the end was cut off. Null for no line. */
  readonly head: { readonly seq: number; readonly hash: string } | null;
  /** Null where everything holds. */
  readonly broken: Break | null;
}

/** Ends a verification at the first break. */
export class Broken extends Error {
  override readonly name = 'Broken';
  readonly broken: Break;
  constructor(table: string, row: string, sentence: string) {
    super(sentence);
    this.broken = { table, row, sentence };
  }
}

export function breakIf(condition: boolean, table: string, row: string, sentence: string): void {
  if (condition) throw new Broken(table, row, sentence);
}
