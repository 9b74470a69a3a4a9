import { LRUCache } from 'lru-cache';
import type { Actor } from '../actor.ts';

/** Whoever reads a project; only one whose request began with a look at the log shares what it reads. */
export type ProjectViewer = Pick<Actor, 'projectId'>;

interface Read {
  /** The last line of the log before it was begun. */
  readonly seq: number;
  readonly reading: Promise<object>;
}

/** Some ten kilobytes each in an ordinary house; of each read of a project one is kept, by the newest head. */
const KEPT = 500;
/** What names people may be so old: a changed name is in no log of a project. A page made of it is kept a minute more. */
const KEPT_MS = 30_000;

/** The reads of one process that its pages share. */
export class SharedReads {
  readonly #kept: LRUCache<string, Read>;

  constructor(forMs = KEPT_MS) {
    // Purged, and not only overlooked: what nobody asks for again must not stay in memory.
    this.#kept = new LRUCache({ max: KEPT, ttl: forMs, ttlAutopurge: true });
  }

  /** Two who ask at the same time wait for the same read. A read that fails is not kept. */
  async read(key: string, seq: number, work: () => Promise<object>): Promise<object> {
    const kept = this.#kept.get(key);
    if (kept?.seq === seq) return kept.reading;
    // The log has gone on since this request looked at it.
    if (kept !== undefined && kept.seq > seq) return work();
    const reading = work();
    this.#kept.set(key, { seq, reading });
    reading.catch(() => {
      if (this.#kept.peek(key)?.reading === reading) this.#kept.delete(key);
    });
    return reading;
  }
}

const atHead = new WeakMap<ProjectViewer, { readonly seq: number; readonly reads: SharedReads }>();

/**
 * Notes the last line of the project's log, read before anything else for this very viewer's request. By the object, not
 * by what stands in it: an actor that was put together inside a use case has seen no head, and reads for itself.
 */
export function sawHead(viewer: ProjectViewer, seq: number, reads: SharedReads): void {
  atHead.set(viewer, { seq, reads });
}

/**
 * What a project's pages show alike to everybody: read once while its log stands at the same line, by whichever page asks
 * first. Every row of a record is written with a line of the log, so that nothing has to be told to forget, and other
 * processes' writes count as one's own. Nothing that depends on who asks, or on the clock, belongs in here.
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
