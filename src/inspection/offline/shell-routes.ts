import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import type { Deps } from '../../web/deps.ts';
import { assetFolder as assets, styleSheet } from '../../web/served-assets.ts';

/** The maintained library for IndexedDB, as the module it comes as; no bundler stands between. */
const idb = path.resolve(import.meta.dirname, '../../../node_modules/idb/build/index.js');

/** What the page of kept visits is made of. Everything is fetched and kept with the worker, so none is missing. */
const shellFiles = [
  'lintelbook.svg',
  'idb.js',
  'moments.js',
  'offline-rules.js',
  'offline-store.js',
  'offline-send.js',
  'offline-visit.js',
  'offline-page.js',
] as const;

const fileOf = (name: string) => (name === 'idb.js' ? idb : path.join(assets, name));

/**
 * The worker, the page that it shows where there is no network, and the library that both keep things with. The
 * worker's first line names a hash of all that it keeps: a change anywhere is another worker with a cache of its own.
 */
export async function shellRoutes(app: FastifyInstance, { config }: Deps): Promise<void> {
  const page = () => app.view('inspection/on-site.njk', {});

  async function workerText(): Promise<string> {
    const hash = createHash('sha256').update(await page());
    // The page names the style sheet by its hash.
    for (const name of shellFiles) hash.update(name).update(await readFile(fileOf(name)));
    const shell = {
      version: hash.digest('hex').slice(0, 16),
      files: [styleSheet.address, ...shellFiles.map((name) => `/assets/${name}`)],
    };
    const body = await readFile(path.join(assets, 'offline-worker.js'), 'utf8');
    return `globalThis.shell = ${JSON.stringify(shell)};\n${body}`;
  }
  let kept: Promise<string> | undefined;

  app.get('/on-site-worker.js', { config: { access: 'asset.read' } }, async (_request, reply) => {
    const text = config.production ? await (kept ??= workerText()) : await workerText();
    return reply.type('text/javascript; charset=utf-8').header('cache-control', 'no-cache').send(text);
  });

  app.get('/assets/idb.js', { config: { access: 'asset.read' } }, async (_request, reply) =>
    reply
      .type('text/javascript; charset=utf-8')
      .header('cache-control', config.production ? 'public, max-age=3600' : 'no-cache')
      .send(await readFile(idb, 'utf8')),
  );

  app.get('/on-site', { config: { access: 'page.public' } }, async (_request, reply) =>
    reply
      .type('text/html; charset=utf-8')
      .header('cache-control', 'no-cache')
      .send(await page()),
  );
}
