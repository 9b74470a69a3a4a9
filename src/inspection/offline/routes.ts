import type { FastifyInstance } from 'fastify';
import type { Deps } from '../../web/deps.ts';
import { keptVisitRoutes } from './kept-routes.ts';
import { lateFindingRoutes } from './late-routes.ts';
import { phonePhotoRoutes } from './photo-routes.ts';
import { shellRoutes } from './shell-routes.ts';
import { phoneFindingRoutes } from './sync-routes.ts';

/** Work without a network: what the phone keeps, what it sends later, and what then came too late. */
export async function offlineRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  await app.register(shellRoutes, deps);
  await app.register(keptVisitRoutes, deps);
  await app.register(phoneFindingRoutes, deps);
  await app.register(phonePhotoRoutes, deps);
  await app.register(lateFindingRoutes, deps);
}
