/**
 * What a use case may refuse with. No HTTP here: src/web maps each class to a status and a page, once.
 */
export class Problem extends Error {
  override readonly name: string = 'Problem';
}

/** The thing isn't there, or isn't there for this person: the two look the same from outside. */
export class NotFound extends Problem {
  override readonly name = 'NotFound';
  constructor(what = 'That page') {
    super(`${what} was not found.`);
  }
}

/** A member asks for what the member's role does not do. */
export class NotAllowed extends Problem {
  override readonly name = 'NotAllowed';
}

/** The rules of the record refuse it as things stand ("return needs a reason", "set would be empty"). */
export class Refused extends Problem {
  override readonly name = 'Refused';
}

/** Somebody was faster. `detail` is what the page needs to show both sides; nothing typed is lost. */
export class Conflict<Detail = unknown> extends Problem {
  override readonly name = 'Conflict';
  readonly detail: Detail;
  constructor(sentence: string, detail: Detail) {
    super(sentence);
    this.detail = detail;
  }
}

/** Too often in too short a time; told with how long to wait. */
export class SlowedDown extends Problem {
  override readonly name = 'SlowedDown';
  readonly waitSeconds: number;
  constructor(sentence: string, waitSeconds: number) {
    super(sentence);
    this.waitSeconds = waitSeconds;
  }
}

/** There is no room for more bytes; what was sent is not kept. */
export class StorageFull extends Problem {
  override readonly name = 'StorageFull';
  constructor() {
    super('The file store is full. Nothing was kept; tell whoever runs this service, then send it again.');
  }
}

/** The store of files does not answer, or not as it should. */
export class StorageUnavailable extends Problem {
  override readonly name = 'StorageUnavailable';
  constructor(cause?: unknown) {
    super('The file store does not answer. Nothing was kept; try again in a minute.');
    this.cause = cause;
  }
}

/** The database does not answer. Where the answer to a sending was lost, it may have been kept: whole, or not at all. */
export class DatabaseAway extends Problem {
  override readonly name = 'DatabaseAway';
  /** Soon enough for a server that was started again, seldom enough not to hinder it. */
  readonly waitSeconds = 5;
  constructor(cause?: unknown) {
    super(
      'The database does not answer just now. Whatever you sent is kept whole or not at all: try again in some seconds, and look first whether it is there.',
    );
    this.cause = cause;
  }
}

/** There is no room for another row; what was sent is not kept. */
export class DatabaseFull extends Problem {
  override readonly name = 'DatabaseFull';
  constructor(cause?: unknown) {
    super(
      'The database’s disk is full. Nothing was kept; tell whoever runs this service, then send it again. Everything can still be read.',
    );
    this.cause = cause;
  }
}

/** The bytes stored for a file are gone, or are not those whose hash the record has. */
export class HashFailure extends Problem {
  override readonly name: string = 'HashFailure';
}

/** One message for each field path, '' for the form as a whole. */
export type FieldProblems = Readonly<Record<string, string>>;

/** What was typed can't be used as it stands. */
export class Invalid extends Problem {
  override readonly name = 'Invalid';
  readonly fields: FieldProblems;
  constructor(fields: FieldProblems) {
    super(Object.values(fields)[0] ?? 'Something in the form needs another look.');
    this.fields = fields;
  }
}

/** How long to wait before the same is asked again (Retry-After, RFC 9110 section 10.2.3); null where that is not known. */
export function secondsToWait(problem: unknown): number | null {
  if (problem instanceof SlowedDown || problem instanceof DatabaseAway) return problem.waitSeconds;
  return problem instanceof StorageUnavailable ? 60 : null;
}
