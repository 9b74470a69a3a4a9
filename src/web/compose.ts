import { webhooksOnEvent } from '../api/webhooks/listener.ts';
import { createBlobStore } from '../attachments/storage/choose.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import { createSessions } from '../people/sessions/sessions.ts';
import { allForms, allKinds } from '../record/kinds/all.ts';
import { checksOnIssue } from '../inspection/checks/listener.ts';
import { createHub } from '../notify/live/hub.ts';
import { newsOnEvent } from '../notify/outbox/listener.ts';
import { holdPointsClosedAgain } from '../inspection/closed-again.ts';
import type { Config } from './config.ts';
import type { Deps } from './deps.ts';

/** Everything the routes stand on, built once. */
export function compose(
  config: Config,
  prisma: PrismaClient,
  databaseUrl: string | null = config.databaseUrl,
): Deps {
  return {
    config,
    prisma,
    databaseUrl,
    sessions: createSessions(prisma, { secureCookies: config.secureCookies }),
    blobs: createBlobStore(config),
    clock: () => new Date(),
    kinds: allKinds,
    forms: allForms,
    live: createHub(prisma),
    listeners: [checksOnIssue, holdPointsClosedAgain(allKinds), newsOnEvent, webhooksOnEvent],
  };
}
