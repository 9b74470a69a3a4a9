import type { Actor } from '../actor.ts';
import { KeptReads } from './kept-reads.ts';

/** Whoever reads a project; only one whose request began with a look at the log shares what it reads. */
export type ProjectViewer = Pick<Actor, 'projectId'>;

/** Some ten kilobytes each in an ordinary house. */
const KEPT = 500;
/** What names people may be so old: a changed name is in no log of a project. A page made of it is kept a minute more. */
const KEPT_MS = 30_000;

/** Where one process keeps the reads that its pages share. */
export function sharedReads(forMs = KEPT_MS): KeptReads<object> {
  return new KeptReads(KEPT, forMs);
}

const atHead = new WeakMap<ProjectViewer, { readonly seq: number; readonly reads: KeptReads<object> }>();

/**
 * Notes the last line of the project's log, read before anything else for this very viewer's request. By the object, not
 * by what stands in it: an actor that was put together inside a use case has seen no head, and reads for itself.
 */
export function sawHead(viewer: ProjectViewer, seq: number, reads: KeptReads<object>): void {
  atHead.set(viewer, { seq, reads });
}

/**
 * What a project's pages show alike to everybody: read once while its log stands at the same line, by whichever page asks
 * first (`KeptReads`). Nothing that depends on who asks, or on the clock, belongs in here.
 *
 * @param what names the read, and with it the type: one name, one kind of value
 */
export async function readTogether<Value extends object>(
  viewer: ProjectViewer,
  what: readonly (string | number | null)[],
  work: () => Promise<Value>,
): Promise<Value> {
  const at = atHead.get(viewer);
  if (at === undefined) return work();
  return (await at.reads.read(JSON.stringify([viewer.projectId, ...what]), at.seq, work)) as Value;
}
