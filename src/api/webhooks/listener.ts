import { randomUUID } from 'node:crypto';
import type { EventListener } from '../../record/use-case.ts';
import { tellableKinds } from './rules.ts';

/** Puts a call into the outbox for each webhook that wants to hear of the event: there if and only if the event is. */
export const webhooksOnEvent: EventListener = async (tx, { projectId, seq, type, at }) => {
  if (!Object.hasOwn(tellableKinds, type)) return;
  const webhooks = await tx.webhook.findMany({
    where: { projectId, endedAt: null, eventKinds: { has: type } },
    select: { id: true },
  });
  if (webhooks.length === 0) return;
  await tx.webhookCall.createMany({
    data: webhooks.map(({ id }) => ({ id: randomUUID(), webhookId: id, projectId, seq, createdAt: at })),
  });
};
