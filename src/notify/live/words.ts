import type { Role } from '../../people/roles.ts';
import { roleMay } from '../../people/permissions.ts';
import type { EventType } from '../../record/events/payloads.ts';
import { eventWords } from '../../record/events/words.ts';
import { oneLine, type Facts } from '../rules/facts.ts';
import { toldTo } from '../rules/told.ts';

/** One thing that happened, as an open page shows it. */
export interface LiveLine {
  readonly what: string;
  /** '' where the words say it already. */
  readonly by: string;
  readonly path: string;
}

export interface Happened {
  readonly type: string;
  readonly payload: unknown;
  readonly actorName: string;
}

const LONGEST = 200;

/**
 * What an open page says of an event, by role: the line that this role is told, else the line of the log for those who
 * may read the log, else nothing.
 */
export function liveLine(role: Role, event: Happened, facts: Facts): LiveLine | null {
  const { type, actorName } = event;
  const line = toldTo(role, type as EventType, event.payload as never, facts);
  if (line !== null) return { what: cut(line.line), by: '', path: line.path };
  if (!roleMay(role, 'log.read')) return null;
  const path =
    facts.itemId !== null && roleMay(role, 'item.read')
      ? `/projects/${facts.projectId}/items/${facts.itemId}`
      : facts.openingId !== null
        ? `/projects/${facts.projectId}/openings/${facts.openingId}`
        : `/projects/${facts.projectId}/log`;
  const about = facts.itemTitle === '' ? '' : `${facts.itemTitle}: `;
  return { what: cut(`${about}${eventWords(type, event.payload)}`), by: actorName, path };
}

function cut(words: string): string {
  const plain = oneLine(words);
  return plain.length > LONGEST ? `${plain.slice(0, LONGEST - 1).trimEnd()}…` : plain;
}
