/**
 * One requirement of the OWASP Application Security Verification Standard 5.0.0, level 1 or 2, and what answers it.
 * Numbers and levels are those of the standard's own list of requirements (5.0.0, English); the words are ours.
 */
export interface Requirement {
  readonly number: string;
  readonly level: 1 | 2;
  readonly words: string;
  readonly answer: Answer;
}

export type Answer =
  /** Tests that would fail if it were not so. */
  | { readonly is: 'tested'; readonly by: readonly { readonly file: string; readonly test: string }[] }
  /** It stands in this file, in these words: a rule that is written down, or code that leaves no other way. */
  | { readonly is: 'written'; readonly file: string; readonly words: string; readonly note: string }
  /** There is no such thing here. */
  | { readonly is: 'absent'; readonly why: string }
  /** Decided by whoever runs an installation. */
  | { readonly is: 'operator'; readonly why: string }
  /** Applies and is not met, or only in part. */
  | { readonly is: 'open'; readonly why: string };

export function row(number: string, level: 1 | 2, words: string, answer: Answer): Requirement {
  return { number, level, words, answer };
}

/** Pairs of file (below tests/) and the name of a test in it. */
export function tested(...pairs: readonly (readonly [file: string, test: string])[]): Answer {
  return { is: 'tested', by: pairs.map(([file, test]) => ({ file: `tests/${file}`, test })) };
}

export function written(file: string, words: string, note: string): Answer {
  return { is: 'written', file, words, note };
}

export function absent(why: string): Answer {
  return { is: 'absent', why };
}

export function operator(why: string): Answer {
  return { is: 'operator', why };
}

export function open(why: string): Answer {
  return { is: 'open', why };
}
