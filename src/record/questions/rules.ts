import { NotAllowed, Refused } from '../../problems.ts';
import type { Role } from '../../people/roles.ts';

/** One thing said in a thread: the question itself, an answer, or the closing word. */
export interface Said {
  readonly questionId: string;
  readonly versionId: string | null;
  readonly text: string;
  readonly closes: boolean;
  readonly byId: string;
  readonly byName: string;
  readonly at: Date;
}

export interface Thread {
  /** The id of the question that began it. */
  readonly threadId: string;
  readonly itemId: string;
  readonly question: Said;
  /** Oldest first. */
  readonly answers: readonly Said[];
  readonly open: boolean;
}

/** A question that nobody closed, as lists show it. */
export interface OpenQuestion {
  readonly threadId: string;
  readonly itemId: string;
  readonly itemTitle: string;
  readonly text: string;
  readonly byName: string;
  readonly at: Date;
}

/** A second identical word within this time is a double tap. */
const DOUBLE_TAP_MS = 60_000;

/** Is this what the same person just said? */
export function isRepeated(
  last: Pick<Said, 'byId' | 'text' | 'closes' | 'at'> | undefined,
  next: Pick<Said, 'byId' | 'text' | 'closes' | 'at'>,
): boolean {
  return (
    last?.byId === next.byId &&
    last.text === next.text &&
    last.closes === next.closes &&
    next.at.getTime() - last.at.getTime() < DOUBLE_TAP_MS
  );
}

/** @throws Refused where the thread is closed. */
export function judgeAnswer(thread: Thread): void {
  if (!thread.open) throw new Refused('This question is closed; ask a new one.');
}

/**
 * The person who asked closes a question, or the engineer.
 *
 * @throws NotAllowed for others; @throws Refused where it is closed already.
 */
export function judgeClosing(
  thread: Thread,
  person: { readonly personId: string; readonly role: Role },
): void {
  judgeAnswer(thread);
  if (thread.question.byId !== person.personId && person.role !== 'engineer') {
    throw new NotAllowed('The person who asked closes a question, or the engineer.');
  }
}
