import { randomUUID } from 'node:crypto';
import type { EventListener } from '../../record/use-case.ts';
import { oneLine } from '../rules/facts.ts';
import { hearersOf, toldTo } from '../rules/told.ts';
import { factsOf } from './facts.ts';

/**
 * The outbox: in the transaction of the event, writes a row for everybody who must be told of it, so that nobody is
 * told of what did not happen and nobody is forgotten for what did. Who gets no mail gets no row.
 *
 * No job is written here: PostgreSQL tells the workers at commit (trigger `news_told`), and the sweep finds what that
 * missed. The record is so never refused because the mail's machinery is down.
 */
export const newsOnEvent: EventListener = async (tx, event) => {
  const { projectId, seq, actorId, type, payload, at } = event;
  const hearers = [...hearersOf(type, payload)];
  if (hearers.length === 0) return;
  const members = await tx.membership.findMany({
    where: {
      projectId,
      revokedAt: null,
      role: { in: hearers },
      person: { closedAt: null, mailChoice: { not: 'none' } },
    },
    select: { personId: true, role: true },
    orderBy: { personId: 'asc' },
  });
  const others = members.filter(({ personId }) => personId !== actorId);
  if (others.length === 0) return;
  const facts = await factsOf(tx, event);
  const rows = others.flatMap(({ personId, role }) => {
    const line = toldTo(role, type, payload, facts);
    if (line === null) return [];
    return [
      {
        id: randomUUID(),
        projectId,
        seq,
        personId,
        role,
        line: oneLine(line.line),
        path: line.path,
        createdAt: at,
      },
    ];
  });
  if (rows.length > 0) await tx.news.createMany({ data: rows });
};
