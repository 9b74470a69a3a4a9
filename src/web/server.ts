import { sweepRegularly } from '../attachments/sweep.ts';
import { createDatabase } from '../database/client.ts';
import { StartProblem } from '../database/problems.ts';
import { demoPassword, demoSignIns } from '../demo/people.ts';
import { loadDemo } from '../demo/load.ts';
import { startNotifying } from '../notify/start.ts';
import { buildApp } from './app.ts';
import { compose } from './compose.ts';
import { BadEnvironment, readConfig } from './config.ts';
import { databaseOf, prepareDatabase } from './database-of.ts';
import { loadCookieSecret } from './secret.ts';

/** The only file that opens a port. Starts in order, stops in reverse, leaves nothing running. */
const closers: (() => Promise<void>)[] = [];
let closing: Promise<void> | undefined;

function closeAll(): Promise<void> {
  closing ??= (async () => {
    for (const close of closers.reverse()) await close();
  })();
  return closing;
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

async function start(): Promise<void> {
  const config = readConfig(process.env);
  const postgres = await databaseOf(config, {
    log: say,
    onUnexpectedEnd: (problem) => {
      fail(problem);
    },
  });
  closers.push(() => postgres.stop());
  const { url } = postgres;
  await prepareDatabase(postgres);
  const database = createDatabase(url);
  closers.push(() => database.close());

  const deps = compose(config, database.prisma, url);
  if (config.demo !== null) await loadDemo(deps, config.demo);
  const secret = config.cookieSecret ?? (await loadCookieSecret(config.dataFolder));
  const app = await buildApp(deps, secret);
  closers.push(() => app.close());
  closers.push(
    sweepRegularly(deps, {
      swept: (swept) => {
        if (swept.removed + swept.forgotten > 0) app.log.info(swept, 'swept the file store');
      },
      failed: (error) => {
        app.log.error({ err: error }, 'the file store could not be swept');
      },
    }),
  );

  closers.push(await startNotifying(deps, { databaseUrl: url, secret, log: app.log }));

  try {
    await app.listen({ host: config.host, port: config.port });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EADDRINUSE') {
      throw new StartProblem(
        `Port ${config.port} is taken by another program.`,
        `Stop that program, or choose another port: PORT=${config.port + 1} scripts/run`,
        error,
      );
    }
    throw error;
  }

  const address = app.server.address();
  const port = typeof address === 'object' && address !== null ? address.port : config.port;
  const shown = config.port === 0 ? `http://localhost:${port}` : config.publicUrl;
  say(`\nLintelbook is at ${shown}`);
  if (config.demo !== null) {
    say('Demo sign-ins (all data invented):');
    for (const one of demoSignIns) say(`  ${one.role.padEnd(11)} ${one.email}   ${demoPassword}`);
  }
  say('Ctrl-C stops it.');
}

function fail(error: unknown): void {
  process.exitCode = 1;
  if (error instanceof StartProblem) process.stderr.write(`${error.sentence}\n${error.remedy}\n`);
  else if (error instanceof BadEnvironment) process.stderr.write(`${error.message}\n`);
  else process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  void closeAll().finally(() => process.exit(1));
}

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
  process.once(signal, () => {
    say('\nStopping.');
    closeAll().then(
      () => process.exit(0),
      (error: unknown) => {
        fail(error);
      },
    );
  });
}

start().catch(fail);
