import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../../src/web/app.ts';
import { testAppSecret, type Client } from '../../support/app.ts';
import { countingClient, type SentQuery } from '../../support/queries.ts';
import type { Site } from './site.ts';

/** Another process of the service over the site's database, which nobody tells anything; what it asks is counted. */
export interface AnotherProcess {
  readonly app: FastifyInstance;
  /** A page as a browser asks for it. */
  readonly open: (client: Client, url: string) => Promise<OpenedPage>;
  readonly close: () => Promise<void>;
}

export interface OpenedPage {
  readonly status: number;
  readonly body: string;
  readonly sent: readonly SentQuery[];
}

export async function anotherProcess(site: Site): Promise<AnotherProcess> {
  const counting = countingClient(site.test.databaseUrl);
  const app = await buildApp({ ...site.test.deps, prisma: counting.prisma }, testAppSecret);
  await app.ready();
  return {
    app,
    async open(client, url) {
      let body = '';
      let status = 0;
      const sent = await counting.sentBy(async () => {
        const headers = { cookie: client.cookies(), accept: 'text/html' };
        ({ body, statusCode: status } = await app.inject({ method: 'GET', url, headers }));
      });
      return { status, body, sent };
    },
    async close() {
      await app.close();
      await counting.close();
    },
  };
}
