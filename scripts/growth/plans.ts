import { createSessions } from '../../src/people/sessions/sessions.ts';
import { demoSignIns } from '../../src/demo/people.ts';
import { verifyProject } from '../../src/record/verify/verify.ts';
import { buildApp } from '../../src/web/app.ts';
import { compose } from '../../src/web/compose.ts';
import { readConfig } from '../../src/web/config.ts';
import type { MainPage } from '../../tests/support/main-pages.ts';
import { bigTables, judgePlans } from '../../tests/support/plans.ts';
import { countingClient, type SentQuery } from '../../tests/support/queries.ts';

/** Rows from which on a table is not to be read from end to end. */
const BIG = 10_000;

/** Opens each page, and verifies a project, over a client that keeps what it sends; looks at every query's plan. */
export async function lookAtPlans(
  databaseUrl: string,
  dataFolder: string,
  pages: readonly MainPage[],
): Promise<void> {
  const counting = countingClient(databaseUrl);
  const config = readConfig({
    NODE_ENV: 'test',
    LOG_LEVEL: 'silent',
    DATA_DIR: dataFolder,
    RATE_LIMIT: '100000',
  });
  const app = await buildApp(
    compose(config, counting.prisma, databaseUrl),
    'a secret of the bench, long enough',
  );
  try {
    const sessions = createSessions(counting.prisma, { secureCookies: config.secureCookies });
    const sentFrom: [string, readonly SentQuery[]][] = [];
    for (const { name, who, address } of pages) {
      const email = demoSignIns.find(({ role }) => role === who)?.email ?? '';
      const person = await counting.prisma.person.findUniqueOrThrow({ where: { email } });
      const cookie = (await sessions.start(person.id)).split(';')[0] ?? '';
      const sent = await counting.sentBy(async () => {
        const answer = await app.inject({
          method: 'GET',
          url: address,
          headers: { cookie, accept: 'text/html' },
        });
        if (answer.statusCode !== 200) throw new Error(`${address} answered ${answer.statusCode}`);
      });
      sentFrom.push([name, sent]);
    }
    const { id } = await counting.prisma.project.findFirstOrThrow({ select: { id: true } });
    sentFrom.push(['verify', await counting.sentBy(() => verifyProject(counting.prisma, id))]);
    const tables = await bigTables(counting.prisma, BIG);
    const { judged, readWhole } = await judgePlans(counting.prisma, sentFrom, tables);
    console.log(
      `${judged} different queries over ${tables.length} big tables: ${readWhole.length} read one whole`,
    );
    for (const words of readWhole) console.log(words);
  } finally {
    await app.close();
    await counting.close();
  }
}
