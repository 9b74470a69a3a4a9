import type { Actor } from '../../actor.ts';
import { NotFound } from '../../problems.ts';
import { readSetSchedule, type ScheduleRow } from '../../record/schedule/read.ts';
import { listSets, type SetView } from '../../record/sets/read.ts';
import type { RecordDeps } from '../../record/use-case.ts';
import { drawingsOfSet, type OpeningDrawings } from '../opening-drawings/gather.ts';

/** One line of the revision table: a set of the opening, and what it changed. */
export interface SheetRevision {
  readonly number: number;
  readonly issuedAt: Date;
  readonly by: string;
  readonly changes: readonly string[];
}

/** A pattern and the rows that are nailed so: drawn once, however many there are. */
export interface SheetPattern {
  /** 'N18, N19'. */
  readonly keys: string;
  /** Where each of them is, with its version. */
  readonly rows: readonly string[];
  readonly words: string;
  /** Null where it can't be drawn; the words stand all the same. */
  readonly svg: string | null;
}

/** The drawings of an approved set as they are printed: views, patterns, notes, revisions. */
export interface DrawingSheet {
  readonly set: SetView;
  readonly drawings: OpeningDrawings;
  readonly patterns: readonly SheetPattern[];
  /** Oldest first, up to this set: a later one is none of its business. */
  readonly revisions: readonly SheetRevision[];
  /** Where the check of this set is found. */
  readonly checkUrl: string;
  readonly madeAt: Date;
}

/** Narrower than on screen, so that words on paper are as large as others. */
export const PATTERN_WIDTH = 430;

/** @throws NotFound for a set of another project */
export async function drawingSheetOfSet(
  deps: RecordDeps,
  actor: Actor,
  setId: string,
  publicUrl: string,
): Promise<DrawingSheet> {
  const { set, ...drawings } = await drawingsOfSet(deps, actor, setId);
  const schedule = await readSetSchedule(deps, actor, { setId, sheetWidth: PATTERN_WIDTH });
  if (schedule === null) throw new NotFound('That set');
  const sets = await listSets(deps, actor, { openingId: set.openingId });
  return {
    set,
    drawings: { ...drawings, set },
    patterns: patternsOf(schedule.rows),
    revisions: sets
      .filter((one) => one.number <= set.number)
      .sort((one, other) => one.number - other.number)
      .map(({ number, issuedAt, content }) => ({
        number,
        issuedAt,
        by: content.issuedBy.name,
        changes: changesOf(content.changes, number),
      })),
    checkUrl: `${publicUrl}/set-check?set=${set.hash.slice(0, 12)}`,
    madeAt: deps.clock(),
  };
}

/** Rows whose drawings show the same, together: ids and titles apart, which name the row. */
function patternsOf(rows: readonly ScheduleRow[]): SheetPattern[] {
  const alike = new Map<string, { keys: string[]; rows: string[]; words: string; svg: string | null }>();
  for (const { key, where, number, fastener, pattern, distances, pieces, picture } of rows) {
    const svg = picture?.svg ?? null;
    const words = `${fastener}: ${pattern}; ${distances}`;
    const shown = svg?.replace(/<title.*?<\/desc>/s, '').replace(/ aria-[a-z]+="[^"]*"/g, '');
    const drawn = [pieces, words, shown ?? key].join('\n');
    const one = alike.get(drawn) ?? { keys: [], rows: [], words, svg };
    one.keys.push(key);
    one.rows.push(`${key} ${where} (version ${number})`);
    alike.set(drawn, one);
  }
  return [...alike.values()].map(({ keys, ...rest }) => ({ keys: keys.join(', '), ...rest }));
}

function changesOf(changes: SetView['content']['changes'], number: number): readonly string[] {
  if (number === 1) return ['First set'];
  if (changes.length === 0) return ['Nothing of the items changed'];
  return changes.map(({ title, what, was, now, lines }) => {
    const versions = was === null || now === null ? '' : ` (version ${was} to ${now})`;
    return `${title}: ${what}${versions}${lines.length === 0 ? '' : `: ${lines.join('; ')}`}`;
  });
}
