import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { startEmbeddedPostgres, type EmbeddedPostgres } from '../../../src/database/embedded.ts';
import { freePort } from '../running-server.ts';

/** A PostgreSQL server apart from the service, stopped and started at one address. */
export interface OwnPostgres {
  readonly url: string;
  stop: () => Promise<void>;
  start: () => Promise<void>;
  close: () => Promise<void>;
}

export async function startOwnPostgres(): Promise<OwnPostgres> {
  const folder = await mkdtemp(path.join(tmpdir(), `lintelbook-test-${process.pid}-`));
  const port = await freePort();
  const up = () =>
    startEmbeddedPostgres({
      dataFolder: folder,
      fallbackParent: path.join(folder, 'fallback'),
      port,
      durable: true,
      log: () => undefined,
      onUnexpectedEnd: () => undefined,
    });
  let server: EmbeddedPostgres = await up();
  const { url } = server;
  return {
    url,
    stop: () => server.stop(),
    async start() {
      server = await up();
      if (server.port !== port)
        throw new Error(`port ${port} was taken meanwhile; the server is at ${server.port}`);
    },
    async close() {
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
