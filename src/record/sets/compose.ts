import { NotFound } from '../../problems.ts';
import { diffVersions } from '../diff/versions.ts';
import { chainHead, type Transaction } from '../events/append.ts';
import { GENESIS_HASH } from '../hash.ts';
import type { ItemStanding } from '../items/state.ts';
import type { KindRegistry } from '../kinds/registry.ts';
import type { OpenQuestion } from '../questions/rules.ts';
import { versionsById, type VersionRecord } from '../versions/store.ts';
import type { SetBasis, SetChange, SetContent, SetEntryContent } from './content.ts';
import { gapsOf, relianceOf, type Enterable } from './rules.ts';
import type { SetRecord } from './store.ts';

/** What a set is composed of; all of it read in the same transaction. */
export interface SetMaterial {
  readonly projectId: string;
  readonly openingId: string;
  readonly standings: readonly ItemStanding[];
  /** Criteria and survey. */
  readonly bases: readonly ItemStanding[];
  readonly entries: readonly Enterable[];
  readonly openQuestions: readonly OpenQuestion[];
  readonly last: SetRecord | null;
  readonly note: string;
  readonly issuedAt: Date;
  readonly issuedBy: { readonly personId: string; readonly name: string };
}

/** Puts the content of the next set together; nothing is written. */
export async function composeSet(
  tx: Transaction,
  kinds: KindRegistry,
  material: SetMaterial,
): Promise<SetContent> {
  const { projectId, openingId, last, entries: enterable } = material;
  const project = await tx.project.findUnique({ where: { id: projectId } });
  const opening = await tx.opening.findUnique({ where: { id: openingId } });
  if (!project || !opening) throw new NotFound('That opening');
  const head = await chainHead(tx, projectId);

  const earlier = [...(last?.content.entries ?? []), ...(last?.content.bases ?? [])];
  const bases = material.bases.flatMap(basis);
  const ids = [...enterable, ...bases, ...earlier].map((entry) => entry.versionId);
  const versions = new Map(
    (await versionsById(tx, projectId, [...new Set(ids)])).map((version) => [version.versionId, version]),
  );
  const entries = enterable.map((entry) => entryContent(kinds, entry, versions.get(entry.versionId)));
  return {
    format: 1,
    project: {
      projectId,
      name: project.name,
      address: project.address,
      jurisdiction: project.jurisdiction,
      permitNumber: project.permitNumber,
    },
    opening: { openingId, ordinal: opening.ordinal, name: opening.name },
    number: (last?.number ?? 0) + 1,
    issuedAt: material.issuedAt.toISOString(),
    issuedBy: material.issuedBy,
    note: material.note,
    entries,
    gaps: gapsOf(material.standings, enterable),
    bases,
    changes: last === null ? [] : changesSince(kinds, last.content, entries, bases, versions),
    openQuestions: material.openQuestions.map(({ threadId, itemId, itemTitle, text }) => ({
      threadId,
      itemId,
      itemTitle,
      text,
    })),
    reliance: relianceOf(entries),
    log: { seq: head?.seq ?? 0, hash: head?.hash ?? GENESIS_HASH },
  };
}

function basis({ facts, state }: ItemStanding): SetBasis[] {
  if (state.is !== 'basis') return [];
  const { itemId, kind, key, title } = facts;
  return [{ itemId, kind, key, title, ...state.version }];
}

function entryContent(
  kinds: KindRegistry,
  entry: Enterable,
  version: VersionRecord | undefined,
): SetEntryContent {
  if (!version) throw new NotFound('That version');
  const { itemId, kind, key, title } = entry.standing.facts;
  const { versionId, number, hash } = entry;
  const { markId, number: markNumber, word, reason, byId, byName, at } = entry.mark;
  return {
    itemId,
    kind,
    key,
    title,
    versionId,
    number,
    hash,
    lines: kinds.get(kind).describe(version.content),
    author: { personId: version.authorId, name: version.authorName, role: version.authorRole },
    mark: { markId, number: markNumber, word, reason, byId, byName, at: at.toISOString() },
  };
}

/** What moved against the set before: entries and bases that are new, changed or left out, in list order. */
function changesSince(
  kinds: KindRegistry,
  last: SetContent,
  entries: readonly SetEntryContent[],
  bases: readonly SetBasis[],
  versions: ReadonlyMap<string, VersionRecord>,
): SetChange[] {
  const before = new Map([...last.bases, ...last.entries].map((entry) => [entry.itemId, entry]));
  const changes: SetChange[] = [];
  for (const entry of [...bases, ...entries]) {
    const { itemId, kind, title, number: now } = entry;
    const old = before.get(itemId);
    before.delete(itemId);
    if (!old) {
      changes.push({ itemId, kind, title, what: 'added', was: null, now, lines: [] });
    } else if (old.versionId !== entry.versionId) {
      const was = versions.get(old.versionId);
      const is = versions.get(entry.versionId);
      const lines = was && is ? diffVersions(kinds, kind, was, is).summary : [];
      changes.push({ itemId, kind, title, what: 'changed', was: old.number, now, lines });
    }
  }
  for (const { itemId, kind, title, number } of before.values()) {
    changes.push({ itemId, kind, title, what: 'left out', was: number, now: null, lines: [] });
  }
  return changes;
}
