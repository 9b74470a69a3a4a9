import type { FastifyInstance } from 'fastify';
import { Conflict, Refused } from '../../problems.ts';
import type { Deps } from '../../web/deps.ts';
import { typedFrom } from '../../web/forms/read.ts';
import type { Typed } from '../../web/forms/spec.ts';
import { actorOf } from '../../web/plugins/access.ts';
import { diffVersions } from '../diff/versions.ts';
import { isSubmitted } from '../versions/rules.ts';
import type { MarkRefusal } from './judge.ts';
import { markMany, type MarkConflict, type ShownVersion } from './service.ts';
import { sayableWords, type SayableWord } from './rules.ts';

const shownForm = /^([0-9a-f]{64})\|(\d{1,6})$/;

/** Boxes named 'shown.<version id>' hold the hash and the number of marks as they were shown. */
export function shownVersions(typed: Readonly<Record<string, string>>): ShownVersion[] {
  return Object.entries(typed).flatMap(([name, value]) => {
    const match = shownForm.exec(value);
    if (!name.startsWith('shown.') || match === null) return [];
    return [{ versionId: name.slice(6), hash: match[1] ?? '', expectedMarkNumber: Number(match[2]) }];
  });
}

export async function markRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const backPage = ({ projectId = '' }, { back }: Typed) => backTo(projectId, back);
  app.post(
    '/projects/:projectId/marks',
    { config: { access: 'mark.create', keepForm: backPage } },
    async (request, reply) => {
      const actor = actorOf(request);
      const typed = typedFrom(request.body);
      const word = sayableWords.find((one) => one === typed.word);
      if (word === undefined) throw new Refused('Choose a word: approved or returned.');
      const versions = shownVersions(typed);
      if (versions.length === 0)
        throw new Refused('Nothing was chosen. Choose a word under at least one item.');
      const back = backTo(actor.projectId, typed.back);
      try {
        const outcomes = await markMany(deps, actor, { versions, word, reason: typed.reason ?? '' });
        reply.flash(
          said(
            word,
            outcomes.map((outcome) => outcome.item.title),
          ),
        );
        return await reply.redirect(back, 303);
      } catch (error) {
        if (error instanceof Conflict) {
          const { refused } = (error as Conflict<MarkConflict>).detail;
          const { reason = '' } = typed;
          return reply.status(409).page('record/mark-conflict.njk', {
            sentence: error.message,
            back,
            word,
            reason,
            ...(await markAgain(deps, actor.projectId, word, versions, refused)),
          });
        }
        if (error instanceof Refused) {
          return reply
            .status(422)
            .page('record/mark-refused.njk', { sentence: error.message, typed, word, versions, back });
        }
        throw error;
      }
    },
  );
}

interface MarkedAgain {
  readonly versionId: string;
  readonly hash: string;
  readonly marks: number;
  readonly title: string;
  readonly number: number;
  /** Not what was chosen: it has to be ticked anew, once it was looked at. */
  readonly moved: boolean;
}

/** What the page of a conflict shows: each refused item as it was seen and as it is, and the form to say it anew. */
async function markAgain(
  deps: Pick<Deps, 'kinds' | 'prisma'>,
  projectId: string,
  word: SayableWord,
  versions: readonly ShownVersion[],
  refused: readonly MarkRefusal[],
) {
  const stopped = new Set(refused.map((one) => one.seen.versionId));
  const left = versions.filter((one) => !stopped.has(one.versionId));
  const rows = await deps.prisma.version.findMany({
    where: { projectId, id: { in: left.map((one) => one.versionId) } },
    select: { id: true, number: true, item: { select: { title: true } } },
  });
  const others = left.flatMap(({ versionId, hash, expectedMarkNumber }): MarkedAgain[] => {
    const row = rows.find((one) => one.id === versionId);
    if (row === undefined) return [];
    const { number, item } = row;
    return [{ versionId, hash, marks: expectedMarkNumber, title: item.title, number, moved: false }];
  });
  const moved = refused.flatMap(({ item, newest }): MarkedAgain[] => {
    const { versionId, hash, marks, number } = newest;
    if (!isSubmitted(newest)) return [];
    return [{ versionId, hash, marks: marks.length, title: item.title, number, moved: true }];
  });
  return {
    refused: refused.map((one) => ({
      ...one,
      seenLines: deps.kinds.get(one.item.kind).describe(one.seen.content),
      newestLines: deps.kinds.get(one.item.kind).describe(one.newest.content),
      diff: diffVersions(deps.kinds, one.item.kind, one.seen, one.newest),
    })),
    others,
    again: word === 'withdrawn' ? [] : [...moved, ...others],
  };
}

/** A page of this project, or its first page. */
export function backTo(projectId: string, back: string | undefined): string {
  const own = `/projects/${projectId}`;
  return back?.startsWith(`${own}/`) === true ? back : own;
}

function said(word: SayableWord, titles: readonly string[]): string {
  const words = {
    approved: 'approved',
    returned: 'returned',
    withdrawn: 'the approval is withdrawn',
  } as const;
  const what = titles.length === 1 ? (titles[0] ?? '') : `${titles.length} items`;
  return `${what}: ${words[word]}.`;
}
