import { randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Invalid, NotFound } from '../../problems.ts';
import type { QuestionSaid } from '../events/payloads.ts';
import { knownId } from '../identifier.ts';
import { prose } from '../prose.ts';
import { readTimeCursor, writeTimeCursor } from '../time-cursor.ts';
import { asMember, useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { findItem } from '../versions/store.ts';
import { isRepeated, judgeAnswer, judgeClosing, type Said, type Thread } from './rules.ts';
import { findThread, threadsOfItem, threadsOfItems } from './store.ts';

export interface QuestionOutcome {
  readonly questionId: string;
  readonly threadId: string;
  readonly itemId: string;
  /** The same words came a second time; nothing was added. */
  readonly repeated: boolean;
}

function needText(text: string, field: string, sentence: string): string {
  const words = prose(text, field);
  if (words === '') throw new Invalid({ [field]: sentence });
  return words;
}

/** Asks something about an item, or about one version of it. Open questions block nothing but are listed. */
export async function askQuestion(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly versionId?: string; readonly text: string },
): Promise<QuestionOutcome> {
  const itemId = knownId(input.itemId, 'That item');
  const versionId = input.versionId === undefined ? null : knownId(input.versionId, 'That version');
  const text = needText(input.text, 'text', 'Write the question.');
  return useCase(deps, actor, 'question.create', async (use) => {
    const { tx, actor: present } = use;
    if (!(await findItem(tx, present.projectId, itemId))) throw new NotFound('That item');
    if (versionId !== null) {
      const version = await tx.version.findFirst({ where: { id: versionId, itemId }, select: { id: true } });
      if (!version) throw new NotFound('That version');
    }
    const last = (await threadsOfItems(tx, present.projectId, [itemId])).at(-1);
    const next = { byId: present.personId, text, closes: false, at: use.at };
    if (
      last?.answers.length === 0 &&
      last.question.versionId === versionId &&
      isRepeated(last.question, next)
    ) {
      return { questionId: last.threadId, threadId: last.threadId, itemId, repeated: true };
    }
    return put(use, 'question.asked', { threadId: null, itemId, versionId, text, closes: false });
  });
}

/** Answers in a thread. @throws Refused where it is closed. */
export async function answerQuestion(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly threadId: string; readonly text: string },
): Promise<QuestionOutcome> {
  const text = needText(input.text, 'text', 'Write the answer.');
  return inThread(deps, actor, input.threadId, { text, closes: false }, (thread) => {
    judgeAnswer(thread);
  });
}

/** Ends a thread, with a last word or without. By who asked, or by the engineer. */
export async function closeQuestion(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly threadId: string; readonly text?: string },
): Promise<QuestionOutcome> {
  const text = prose(input.text ?? '', 'text');
  return inThread(deps, actor, input.threadId, { text, closes: true }, judgeClosing);
}

export interface ThreadsPage {
  readonly threads: readonly Thread[];
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

const PAGE = 30;

/**
 * The threads on an item, oldest first, a page at a time.
 *
 * @throws NotFound for a cursor that this program did not write.
 */
export async function readThreads(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly itemId: string; readonly after?: string },
): Promise<ThreadsPage> {
  const itemId = knownId(input.itemId, 'That item');
  const after = input.after === undefined ? null : readTimeCursor(input.after);
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const found = await threadsOfItem(tx, projectId, itemId, { after, limit: PAGE + 1 });
    const shown = found.slice(0, PAGE);
    const last = shown.at(-1);
    return {
      threads: shown,
      next: found.length > PAGE && last ? writeTimeCursor(last.question.at, last.threadId) : null,
    };
  });
}

async function inThread(
  deps: RecordDeps,
  actor: Actor,
  id: string,
  say: Pick<Said, 'text' | 'closes'>,
  judge: (thread: Thread, person: Actor) => void,
): Promise<QuestionOutcome> {
  const threadId = knownId(id, 'That question');
  return useCase(deps, actor, 'question.create', async (use) => {
    const thread = await findThread(use.tx, use.actor.projectId, threadId);
    if (thread?.threadId !== threadId) throw new NotFound('That question');
    const { itemId } = thread;
    const last = thread.answers.at(-1);
    if (last && isRepeated(last, { ...say, byId: use.actor.personId, at: use.at })) {
      return { questionId: last.questionId, threadId, itemId, repeated: true };
    }
    judge(thread, use.actor);
    const type = say.closes ? 'question.closed' : 'question.answered';
    return put(use, type, { threadId, itemId, versionId: null, ...say });
  });
}

async function put(
  use: UseCase,
  type: 'question.asked' | 'question.answered' | 'question.closed',
  said: Omit<QuestionSaid, 'questionId' | 'byId'>,
): Promise<QuestionOutcome> {
  const questionId = randomUUID();
  const { projectId, personId: byId } = use.actor;
  await use.tx.question.create({
    data: { id: questionId, projectId, ...said, byId, at: use.at },
    select: { id: true },
  });
  await use.append(type, { questionId, ...said, byId });
  return { questionId, threadId: said.threadId ?? questionId, itemId: said.itemId, repeated: false };
}
