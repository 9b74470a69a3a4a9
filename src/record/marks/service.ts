import type { Actor } from '../../actor.ts';
import { Conflict, NotFound } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { prose } from '../prose.ts';
import { useCase, type RecordDeps } from '../use-case.ts';
import { loadCandidates, refusalWords, sayWord, type MarkOutcome, type MarkRefusal } from './judge.ts';
import type { SayableWord } from './rules.ts';

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

export interface MarkConflict {
  readonly refused: readonly MarkRefusal[];
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
    for (const candidate of candidates) {
      const { hash = '', expectedMarkNumber = 0 } = shown.get(candidate.version.versionId) ?? {};
      const said = await sayWord(use, candidate, { hash, expectedMarkNumber, word, reason });
      if (said.is === 'marked') outcomes.push(said.outcome);
      else refused.push(said.refusal);
    }
    // Thrown inside the transaction: what was marked before it is undone.
    if (refused.length > 0) throw new Conflict<MarkConflict>(refusalSentence(refused), { refused });
    return outcomes;
  });
}

function refusalSentence(refused: readonly MarkRefusal[]): string {
  const [first] = refused;
  if (!first) return 'Nothing was marked.';
  const more = refused.length === 1 ? '' : ` (and ${refused.length - 1} more)`;
  return `Nothing was marked: ${refusalWords(first)}${more}.`;
}
