import path from 'node:path';
import { startEmbeddedPostgres, type EmbeddedPostgresOptions } from '../database/embedded.ts';
import type { Config } from './config.ts';

/** The database of an installation: the one it is told of, or its own under DATA_DIR, started here. */
export async function databaseOf(
  config: Config,
  options: Pick<EmbeddedPostgresOptions, 'log' | 'onUnexpectedEnd'>,
): Promise<{ readonly url: string; stop(): Promise<void> }> {
  if (config.databaseUrl !== null) return { url: config.databaseUrl, stop: () => Promise.resolve() };
  return startEmbeddedPostgres({ dataFolder: path.resolve(config.dataFolder, 'postgres'), ...options });
}
