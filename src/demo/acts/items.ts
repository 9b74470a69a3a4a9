import type { Role } from '../../people/roles.ts';
import { createItem } from '../../record/items/create.ts';
import { standingsOfOpening } from '../../record/items/standings.ts';
import type { ItemStanding } from '../../record/items/state.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { markMany } from '../../record/marks/service.ts';
import { recalculateItem, recalculateOpening } from '../../record/recalculation/service.ts';
import { applyRows } from '../../record/schedule/apply.ts';
import { readProposal } from '../../record/schedule/propose.ts';
import { issueSet, previewSet } from '../../record/sets/service.ts';
import { submitVersions } from '../../record/submissions/service.ts';
import { saveVersion } from '../../record/versions/service.ts';
import type { Telling } from '../telling.ts';

/** An item of the story by kind and key: 'beam', 'support left', 'fastening N1'. */
export type ItemName = string;

const nameOf = ({ facts }: ItemStanding): ItemName =>
  facts.kind === facts.key ? facts.kind : `${facts.kind} ${facts.key}`;

/** What is done with the items of one opening. */
export function itemActs(telling: Telling, openingId: string) {
  const { deps, projectId, as } = telling;

  const standings = () =>
    deps.prisma.$transaction((tx) => standingsOfOpening(tx, deps.kinds, { projectId }, openingId));

  async function find(name: ItemName): Promise<ItemStanding> {
    const found = (await standings()).find((one) => nameOf(one) === name);
    if (found === undefined) throw new Error(`The demo's opening has no item "${name}".`);
    return found;
  }

  const shown = ({ facts }: ItemStanding) => ({
    versionId: facts.newest?.versionId ?? '',
    hash: facts.newest?.hash ?? '',
    expectedMarkNumber: facts.mark?.number ?? 0,
  });

  return {
    find,

    async add(kind: ItemKind, key: string, title: string, content: unknown, by: Role = 'contractor') {
      await createItem(deps, as(by), { openingId, kind, key, title, content });
    },

    /** A new version: the newest content, changed; the engineer's is a mark as well. */
    async change<Content>(
      name: ItemName,
      to: (content: Content) => Content,
      reason: string,
      by: Role = 'contractor',
    ) {
      const { facts } = await find(name);
      const newest = await deps.prisma.version.findUniqueOrThrow({
        where: { id: facts.newest?.versionId ?? '' },
        select: { content: true, number: true },
      });
      await saveVersion(deps, as(by), {
        itemId: facts.itemId,
        expectedNumber: newest.number,
        content: to(JSON.parse(newest.content) as Content),
        reason,
      });
    },

    async recalculate(name?: ItemName) {
      if (name === undefined) {
        await recalculateOpening(deps, as('contractor'), { openingId });
        return;
      }
      const { facts } = await find(name);
      await recalculateItem(deps, as('contractor'), { itemId: facts.itemId });
    },

    /** The rows that the design asks for, kept in the schedule. */
    async proposeRows(reason: string, keep: (joint: string) => boolean = () => true) {
      const { rows } = await readProposal(deps, as('contractor'), { openingId });
      const wishes = rows.flatMap(({ compared }) =>
        compared.is === 'new' && keep(compared.row.joint) ? [{ row: compared.row, onto: null }] : [],
      );
      await applyRows(deps, as('contractor'), 'schedule.propose', { openingId, wishes, reason });
    },

    async submit(note: string) {
      await submitVersions(deps, as('contractor'), { openingId, note });
    },

    async returnTo(name: ItemName, reason: string) {
      await markMany(deps, as('engineer'), {
        versions: [shown(await find(name))],
        word: 'returned',
        reason,
      });
    },

    /** Approves one that misses a check, and says why it may. */
    async approveInSpite(name: ItemName, reason: string) {
      await markMany(deps, as('engineer'), { versions: [shown(await find(name))], word: 'approved', reason });
    },

    /** Approves everything that waits for a mark and is not out of date, but for some. */
    async approveAll(except: readonly ItemName[] = []) {
      const waiting = (await standings()).filter(
        (one) => one.state.is === 'awaiting mark' && one.stale.length === 0 && !except.includes(nameOf(one)),
      );
      if (waiting.length === 0) return;
      await markMany(deps, as('engineer'), { versions: waiting.map(shown), word: 'approved' });
    },

    /** Issues all that may enter; open questions were seen. */
    async issue(note: string) {
      const { expectedLastNumber, content, openQuestions } = await previewSet(deps, as('engineer'), {
        openingId,
      });
      await issueSet(deps, as('engineer'), {
        openingId,
        expectedLastNumber,
        entries: content.entries,
        confirmedQuestions: openQuestions.map((one) => one.threadId),
        note,
      });
    },
  };
}
