import type { FastifyInstance } from 'fastify';
import type { Deps } from '../../web/deps.ts';
import { scheduleDocumentRoutes } from './document-routes.ts';
import { importRoutes } from './import-routes.ts';
import { proposalRoutes } from './proposal-routes.ts';
import { rowRoutes } from './row-routes.ts';

/** The nailing and fastener schedule: proposed, worked on, printed, out as a file and in again. */
export async function scheduleRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  await app.register(scheduleDocumentRoutes, deps);
  await app.register(proposalRoutes, deps);
  await app.register(importRoutes, deps);
  await app.register(rowRoutes, deps);
}
