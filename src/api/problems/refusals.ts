import { Problem } from '../../problems.ts';
import type { Scope } from '../tokens/scopes.ts';

/** The token is good, and not for this. */
export class ScopeLacking extends Problem {
  override readonly name = 'ScopeLacking';
  readonly scope: Scope;
  constructor(scope: Scope) {
    super(`This token may not be used for that: it has no scope “${scope}”.`);
    this.scope = scope;
  }
}

/** What the program knew is no longer so (RFC 9110, section 15.5.13). */
export class PreconditionFailed extends Problem {
  override readonly name = 'PreconditionFailed';
  /** The tag of what stands now; null where there is nothing yet. */
  readonly etag: string | null;
  constructor(sentence: string, etag: string | null) {
    super(sentence);
    this.etag = etag;
  }
}

/** It must say what it knows before it may change it (RFC 6585, section 3). */
export class PreconditionNeeded extends Problem {
  override readonly name = 'PreconditionNeeded';
}

export interface WrongField {
  /** JSON Pointer into the body as a URI fragment (RFC 6901, section 6); left out for a query. */
  readonly pointer?: string;
  /** The name of a query parameter. */
  readonly parameter?: string;
  readonly detail: string;
}

/** Something that was sent can't be used, with the places. */
export class WrongFields extends Problem {
  override readonly name = 'WrongFields';
  readonly errors: readonly WrongField[];
  constructor(errors: readonly WrongField[]) {
    super(errors[0]?.detail ?? 'Something that was sent can’t be used.');
    this.errors = errors;
  }
}
