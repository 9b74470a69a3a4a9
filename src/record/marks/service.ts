import type { Actor } from '../../actor.ts';
import { Conflict, NotFound } from '../../problems.ts';
import { failingChecks } from '../calculation.ts';
import { knownId } from '../identifier.ts';
import type { ItemFacts } from '../items/state.ts';
import { factsOfItems } from '../items/store.ts';
import { prose } from '../prose.ts';
import type { StaleReason } from '../staleness/rules.ts';
import { loadStale } from '../staleness/store.ts';
import { useCase, type RecordDeps, type UseCase } from '../use-case.ts';
import { isSubmitted } from '../versions/rules.ts';
import { versionById, versionsById, type VersionRecord } from '../versions/store.ts';
import { recordMark, type MadeMark } from './record.ts';
import { decideMark, type AskedMark, type MarkDecision, type SayableWord } from './rules.ts';

/** One version, as it was shown, that is to be marked. */
export interface ShownVersion {
  readonly versionId: string;
  readonly hash: string;
  /** How many marks it bore when it was shown; 0 for none. */
  readonly expectedMarkNumber: number;
}

export interface MarkVersion extends ShownVersion {
  readonly word: SayableWord;
  readonly reason?: string;
}

/** Why a mark was not made, with what the page shows side by side. */
export interface MarkRefusal {
  readonly why: Exclude<MarkDecision, 'mark' | 'repeated'>;
  readonly item: ItemFacts;
  readonly asked: AskedMark;
  /** What the person had before the eyes. */
  readonly seen: VersionRecord;
  readonly newest: VersionRecord;
}

export interface MarkConflict {
  readonly refused: readonly MarkRefusal[];
}

export interface MarkOutcome extends MadeMark {
  readonly item: ItemFacts;
  readonly repeated: boolean;
}

/**
 * Says a word on one version. The same word sent twice is one mark.
 *
 * @throws Conflict<MarkConflict> where the version is no longer the newest, has another content, or was marked
 * meanwhile. @throws Refused by the rules (see `decideMark`). @throws NotFound for a version of another project.
 */
export async function markVersion(deps: RecordDeps, actor: Actor, input: MarkVersion): Promise<MarkOutcome> {
  const { versionId, hash, expectedMarkNumber, word, reason } = input;
  const outcomes = await markMany(deps, actor, {
    versions: [{ versionId, hash, expectedMarkNumber }],
    word,
    ...(reason === undefined ? {} : { reason }),
  });
  const [outcome] = outcomes;
  if (!outcome) throw new NotFound('That version');
  return outcome;
}

/**
 * Says one word on several versions, each of which was shown: all of them or none. Throws as `markVersion` does;
 * the conflict lists every version that stands in the way.
 */
export async function markMany(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly versions: readonly ShownVersion[];
    readonly word: SayableWord;
    readonly reason?: string;
  },
): Promise<readonly MarkOutcome[]> {
  // The same version named twice in one form is one mark.
  const shown = new Map(
    input.versions.map((version) => [knownId(version.versionId, 'That version'), version]),
  );
  const { word } = input;
  const reason = prose(input.reason ?? '', 'reason');
  return useCase(deps, actor, 'mark.create', async (use) => {
    const candidates = await loadCandidates(use, [...shown.keys()]);
    const refused: MarkRefusal[] = [];
    const outcomes: MarkOutcome[] = [];
    for (const { version, item, newest, stale } of candidates) {
      const { hash, expectedMarkNumber } = shown.get(version.versionId) ?? {
        hash: '',
        expectedMarkNumber: 0,
      };
      const asked: AskedMark = { hash, expectedMarkNumber, word, reason };
      const decision = decideMark({
        role: use.actor.role,
        personId: use.actor.personId,
        title: item.title,
        reviewable: item.reviewable,
        version: {
          number: version.number,
          hash: version.hash,
          submitted: isSubmitted(version),
          marks: version.marks,
          failing: failingChecks(version.calculation).map((check) => check.title),
        },
        newestNumber: newest.number,
        stale: stale.map((why) => why.sentence),
        asked,
      });
      const { versionId } = version;
      const last = version.marks.at(-1);
      if (decision === 'mark') {
        const made = await recordMark(use, {
          itemId: item.itemId,
          versionId,
          versionHash: version.hash,
          number: expectedMarkNumber + 1,
          word,
          reason,
        });
        outcomes.push({ ...made, item, repeated: false });
      } else if (decision === 'repeated') {
        if (last) outcomes.push({ ...last, versionId, item, repeated: true });
      } else {
        const shownNewest =
          newest.number === version.number ? version : await newestOf(use, newest.versionId);
        refused.push({ why: decision, item, asked, seen: version, newest: shownNewest });
      }
    }
    // Thrown inside the transaction: what was marked before it is undone.
    if (refused.length > 0) throw new Conflict<MarkConflict>(refusalSentence(refused), { refused });
    return outcomes;
  });
}

interface Candidate {
  readonly version: VersionRecord;
  readonly item: ItemFacts;
  readonly newest: { readonly versionId: string; readonly number: number };
  readonly stale: readonly StaleReason[];
}

async function loadCandidates(use: UseCase, versionIds: readonly string[]): Promise<Candidate[]> {
  const { tx, actor, kinds } = use;
  const versions = await versionsById(tx, actor.projectId, versionIds);
  if (versions.length !== versionIds.length) throw new NotFound('That version');
  const itemIds = [...new Set(versions.map((version) => version.itemId))];
  const facts = await factsOfItems(tx, kinds, actor.projectId, itemIds);
  const byId = new Map(facts.map((item) => [item.itemId, item]));
  const stale = await loadStale(tx, kinds, { projectId: actor.projectId, itemIds });
  return versions.map((version) => {
    const item = byId.get(version.itemId);
    if (!item?.newest) throw new NotFound('That version');
    return { version, item, newest: item.newest, stale: stale.get(version.itemId) ?? [] };
  });
}

async function newestOf(use: UseCase, versionId: string): Promise<VersionRecord> {
  const newest = await versionById(use.tx, use.actor.projectId, versionId);
  if (!newest) throw new NotFound('That version');
  return newest;
}

function refusalSentence(refused: readonly MarkRefusal[]): string {
  const [first] = refused;
  if (!first) return 'Nothing was marked.';
  const { item, seen, newest, why } = first;
  const more = refused.length === 1 ? '' : ` (and ${refused.length - 1} more)`;
  switch (why) {
    case 'newer version':
      return `Nothing was marked: ${item.title} has a version ${newest.number} since version ${seen.number} was shown${more}.`;
    case 'other content':
      return `Nothing was marked: what was shown of ${item.title} is not what version ${seen.number} says${more}.`;
    case 'marked meanwhile':
      return `Nothing was marked: version ${seen.number} of ${item.title} was marked meanwhile${more}.`;
  }
}
