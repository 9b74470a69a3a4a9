import path from 'node:path';
import { createDiskStore } from '../attachments/storage/disk-store.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import { createSessions } from '../people/sessions/sessions.ts';
import { allForms, allKinds } from '../record/kinds/all.ts';
import { checksOnIssue } from '../inspection/checks/listener.ts';
import type { Config } from './config.ts';
import type { Deps } from './deps.ts';

/** Everything the routes stand on, built once. */
export function compose(config: Config, prisma: PrismaClient): Deps {
  return {
    config,
    prisma,
    sessions: createSessions(prisma, { secureCookies: config.secureCookies }),
    blobs: createDiskStore(path.resolve(config.dataFolder, 'files')),
    clock: () => new Date(),
    kinds: allKinds,
    forms: allForms,
    listeners: [checksOnIssue],
  };
}
