import {
  itemState,
  type ItemFacts,
  type ItemStanding,
  type ItemState,
  type MarkReference,
} from '../../../src/record/items/state.ts';

const words = ['approved', 'revised', 'returned', 'withdrawn'] as const;

/** An item in a given state, with version 1 (`<id> v1`); stale by these sentences. */
export function standing(itemId: string, is: ItemState['is'], stale: readonly string[] = []): ItemStanding {
  const word = words.find((name) => name === is);
  const mark: MarkReference | null = word
    ? {
        markId: `${itemId} mark`,
        number: 1,
        word,
        reason: word === 'approved' ? '' : 'because',
        byId: 'engineer',
        byName: 'K. O.',
        at: new Date(3000),
      }
    : null;
  const facts: ItemFacts = {
    itemId,
    projectId: 'project',
    openingId: 'opening',
    kind: is === 'basis' ? 'survey' : 'beam',
    key: itemId,
    title: itemId,
    reviewable: is !== 'basis',
    newest:
      is === 'empty'
        ? null
        : {
            versionId: `${itemId} v1`,
            number: 1,
            hash: `${itemId} h1`,
            authorId: 'contractor',
            authorName: 'R. T.',
            authorRole: 'contractor',
            reason: '',
            at: new Date(1000),
          },
    submittedAt: is === 'empty' || is === 'not submitted' || is === 'basis' ? null : new Date(2000),
    mark,
  };
  const on = { itemId: 'under', kind: 'survey', title: 'Survey' } as const;
  return { facts, state: itemState(facts), stale: stale.map((sentence) => ({ on, sentence })) };
}
