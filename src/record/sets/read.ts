import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import type { Transaction } from '../events/append.ts';
import { knownId } from '../identifier.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { flagsOf, type SetFlag } from './rules.ts';
import {
  findSet,
  lastSet,
  marksOfVersions,
  setHeads,
  setsOfOpening,
  type SetHead,
  type SetRecord,
} from './store.ts';

/** An issued set as pages show it: its frozen content, and what became of it since. */
export interface SetView extends SetRecord {
  /** The number of the newest set of the opening, where that is a later one. */
  readonly supersededBy: number | null;
  /** Entries whose approval was withdrawn since. */
  readonly flags: readonly SetFlag[];
}

/** All sets of an opening, newest first: the first is in force, the others are superseded. */
export async function listSets(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string },
): Promise<readonly SetView[]> {
  const openingId = knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'set.read', async (tx, { projectId }) => {
    const opening = await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true } });
    if (!opening) throw new NotFound('That opening');
    const sets = await setsOfOpening(tx, projectId, openingId);
    return withFate(tx, sets, sets[0]?.number ?? 0);
  });
}

export interface SetHeadsPage {
  /** The number of the set in force; 0 where none was issued. */
  readonly newestNumber: number;
  readonly newestId: string | null;
  /** Newest first. */
  readonly sets: readonly SetHead[];
  /** Hand in as `before` for the next page; null on the last one. */
  readonly next: number | null;
}

const PAGE = 20;

/** The sets of an opening by number, date and issuer, newest first, a page at a time. */
export async function listSetHeads(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly before: number | null },
): Promise<SetHeadsPage> {
  const openingId = knownId(input.openingId, 'That opening');
  return asMember(deps, actor, 'set.read', async (tx, { projectId }) => {
    const found = await setHeads(tx, projectId, openingId, { limit: PAGE + 1, before: input.before });
    const [inForce] =
      input.before === null ? found : await setHeads(tx, projectId, openingId, { limit: 1, before: null });
    const sets = found.slice(0, PAGE);
    const next = found.length > PAGE ? (sets.at(-1)?.number ?? null) : null;
    return { newestNumber: inForce?.number ?? 0, newestId: inForce?.setId ?? null, sets, next };
  });
}

/** One set. @throws NotFound for a set of another project. */
export async function readSet(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly setId: string },
): Promise<SetView> {
  const setId = knownId(input.setId, 'That set');
  return asMember(deps, actor, 'set.read', async (tx, { projectId }) => {
    const set = await findSet(tx, projectId, setId);
    const newest = set && (await lastSet(tx, set.openingId));
    const [view] = set ? await withFate(tx, [set], newest?.number ?? set.number) : [];
    if (!view) throw new NotFound('That set');
    return view;
  });
}

async function withFate(
  tx: Transaction,
  sets: readonly SetRecord[],
  newestNumber: number,
): Promise<SetView[]> {
  const versionIds = sets.flatMap((set) => set.content.entries.map((entry) => entry.versionId));
  const marks = await marksOfVersions(tx, versionIds);
  return sets.map((set) => ({
    ...set,
    supersededBy: newestNumber > set.number ? newestNumber : null,
    flags: flagsOf(set.content.entries, marks),
  }));
}
