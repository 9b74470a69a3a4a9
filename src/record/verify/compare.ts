import type { EventPayloads, EventType } from '../events/payloads.ts';
import { canonicalJson } from '../canonical.ts';
import type { ChainedEvent } from './chain.ts';
import { Broken, breakIf } from './report.ts';

/** The events of some types. The chain vouches for a payload: it is what this program wrote under that type. */
export function ofType<Type extends EventType>(
  events: readonly ChainedEvent[],
  ...types: Type[]
): readonly (ChainedEvent & { readonly payload: EventPayloads[Type] })[] {
  const wanted: readonly string[] = types;
  return events.filter((event) => wanted.includes(event.type)) as (ChainedEvent & {
    readonly payload: EventPayloads[Type];
  })[];
}

/** A row's value as an event would say it. */
function sayable(value: unknown): unknown {
  if (value instanceof Date) return value.toISOString();
  return typeof value === 'bigint' ? Number(value) : (value ?? null);
}

/** Compares a row with what its event says, field by field; both in canonical JSON. */
export function sameAsEvent(table: string, id: string, seq: number, row: object, said: object): void {
  for (const [field, value] of Object.entries(said)) {
    const kept = sayable((row as Record<string, unknown>)[field]);
    breakIf(
      canonicalJson(kept) !== canonicalJson(value ?? null),
      table,
      id,
      `Its ${field} is not what event ${seq} recorded.`,
    );
  }
}

/** @throws Broken where an event recorded a row that is not there. */
export function found<Row>(row: Row | undefined | null, table: string, id: string, seq: number): Row {
  if (row === undefined || row === null) {
    throw new Broken(table, id, `Event ${seq} recorded it, and it is gone.`);
  }
  return row;
}

export function sameTime(table: string, id: string, event: ChainedEvent, at: Date): void {
  breakIf(at.getTime() !== event.at.getTime(), table, id, `Its time is not that of event ${event.seq}.`);
}

/** How many rows are in memory at once. */
const ROWS = 40;

/** Events with the rows that they recorded, a few at a time: rows can be long, and a log has no end. */
export async function eachWithRow<Event extends ChainedEvent, Row>(
  events: readonly Event[],
  idOf: (event: Event) => string,
  load: (ids: string[]) => Promise<ReadonlyMap<string, Row>>,
  look: (event: Event, id: string, row: Row | undefined) => Promise<void> | void,
): Promise<void> {
  for (let from = 0; from < events.length; from += ROWS) {
    const some = events.slice(from, from + ROWS);
    const rows = await load(some.map(idOf));
    for (const event of some) {
      const id = idOf(event);
      await look(event, id, rows.get(id));
    }
  }
}
