import { createDatabase } from '../../database/client.ts';
import { databaseProblem, StartProblem } from '../../database/problems.ts';
import { Refused } from '../../problems.ts';
import { endSessionsOf, switchCodesOffFor } from './accounts.ts';

const USAGE = `usage: scripts/accounts end-sessions EMAIL    ends every session of one account
       scripts/accounts end-sessions --all    ends every session of everybody
       scripts/accounts codes-off EMAIL       switches one-time codes off, for somebody who has lost phone and recovery
                                              codes and whom you know; the password alone lets in again

Whoever has a page open is asked to sign in at the next click; what an inspector's phone keeps stays on it. Reads
DATABASE_URL. Ends with 0 where it is done, 1 where that is refused, 2 where it can't run.`;

async function run(act: string, whom: string, databaseUrl: string): Promise<string> {
  const database = createDatabase(databaseUrl);
  const deps = { prisma: database.prisma, clock: () => new Date() };
  try {
    if (act === 'codes-off') {
      await switchCodesOffFor(deps, whom);
      return `${whom} signs in with the password alone again, and is told so by mail.`;
    }
    const ended = await endSessionsOf(deps, whom === '--all' ? null : whom);
    return `${ended} ${ended === 1 ? 'session' : 'sessions'} ended.`;
  } finally {
    await database.close();
  }
}

async function main(): Promise<number> {
  const [act = '', whom = '', ...rest] = process.argv.slice(2);
  const known = act === 'end-sessions' || (act === 'codes-off' && !whom.startsWith('--'));
  if (!known || whom === '' || rest.length > 0) {
    console.error(USAGE);
    return act === '--help' ? 0 : 2;
  }
  const databaseUrl = process.env.DATABASE_URL ?? '';
  try {
    console.log(await run(act, whom, databaseUrl));
    return 0;
  } catch (error) {
    const refused = error instanceof Refused;
    const plain = refused || error instanceof StartProblem;
    console.error((plain ? error : databaseProblem(error, databaseUrl))?.message ?? error);
    return refused ? 1 : 2;
  }
}

process.exitCode = await main();
