import type { FastifyInstance } from 'fastify';
import type { Deps } from '../web/deps.ts';
import { familyRoutes } from './owner/family-routes.ts';
import { ownerRoutes } from './owner/routes.ts';
import { salvageRoutes } from './salvage/routes.ts';
import { sequenceRoutes } from './sequence/routes.ts';
import { serviceRoutes } from './services/routes.ts';

export async function siteRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  await app.register(serviceRoutes, deps);
  await app.register(sequenceRoutes, deps);
  await app.register(salvageRoutes, deps);
  await app.register(ownerRoutes, deps);
  await app.register(familyRoutes, deps);
}
