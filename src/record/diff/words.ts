/** A run of text that both have, or that only one has. */
export interface WordRun {
  readonly is: 'same' | 'removed' | 'added';
  readonly text: string;
}

/** Above this many pairs of words the middle is shown as replaced whole: comparing would take too long. */
const MOST_PAIRS = 4_000_000;

/** Words, numbers with their marks, and the gaps between them, so that joined together they are the text again. */
function wordsOf(text: string): readonly string[] {
  return text.match(/\s+|[\p{L}\p{N}'"′″./\u2044-]+|[^\s\p{L}\p{N}]/gu) ?? [];
}

/**
 * Two texts word by word, by their longest common subsequence (the dynamic programme of
 * Wagner and Fischer, 1974): what stayed, what went, what came.
 */
export function diffWords(was: string, now: string): readonly WordRun[] {
  const before = wordsOf(was);
  const after = wordsOf(now);
  let start = 0;
  while (start < before.length && start < after.length && before[start] === after[start]) start += 1;
  let end = 0;
  while (
    end < before.length - start &&
    end < after.length - start &&
    before[before.length - 1 - end] === after[after.length - 1 - end]
  ) {
    end += 1;
  }
  const runs: WordRun[] = [];
  push(runs, 'same', before.slice(0, start));
  compareMiddle(runs, before.slice(start, before.length - end), after.slice(start, after.length - end));
  push(runs, 'same', before.slice(before.length - end));
  return runs;
}

function push(runs: WordRun[], is: WordRun['is'], words: readonly string[]): void {
  if (words.length === 0) return;
  const last = runs.at(-1);
  const text = words.join('');
  if (last?.is === is) runs[runs.length - 1] = { is, text: last.text + text };
  else runs.push({ is, text });
}

function compareMiddle(runs: WordRun[], before: readonly string[], after: readonly string[]): void {
  const width = after.length + 1;
  if (before.length === 0 || after.length === 0 || before.length * after.length > MOST_PAIRS) {
    push(runs, 'removed', before);
    push(runs, 'added', after);
    return;
  }
  // common[i][j]: length of the longest common subsequence of before[i…] and after[j…].
  const common = new Uint32Array((before.length + 1) * width);
  const at = (i: number, j: number) => common[i * width + j] ?? 0;
  for (let i = before.length - 1; i >= 0; i -= 1) {
    for (let j = after.length - 1; j >= 0; j -= 1) {
      common[i * width + j] =
        before[i] === after[j] ? at(i + 1, j + 1) + 1 : Math.max(at(i + 1, j), at(i, j + 1));
    }
  }
  let i = 0;
  let j = 0;
  while (i < before.length || j < after.length) {
    if (i < before.length && j < after.length && before[i] === after[j]) {
      push(runs, 'same', before.slice(i, i + 1));
      i += 1;
      j += 1;
    } else if (i < before.length && (j >= after.length || at(i + 1, j) >= at(i, j + 1))) {
      push(runs, 'removed', before.slice(i, i + 1));
      i += 1;
    } else {
      push(runs, 'added', after.slice(j, j + 1));
      j += 1;
    }
  }
}
