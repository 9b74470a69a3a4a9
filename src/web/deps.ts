import type { Clock } from '../actor.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import type { Sessions } from '../people/sessions/sessions.ts';
import type { Config } from './config.ts';

/** What routes are built from; made once in `compose.ts`, or by a test. */
export interface Deps {
  readonly config: Config;
  readonly prisma: PrismaClient;
  readonly sessions: Sessions;
  readonly clock: Clock;
}
