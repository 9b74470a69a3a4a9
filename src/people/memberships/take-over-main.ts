import { createDatabase } from '../../database/client.ts';
import { databaseProblem, StartProblem } from '../../database/problems.ts';
import { NotFound, Refused } from '../../problems.ts';
import { isId } from '../../record/identifier.ts';
import { compose } from '../../web/compose.ts';
import { BadEnvironment, readConfig } from '../../web/config.ts';
import { takeOverMembership } from './take-over.ts';

const USAGE = `usage: scripts/let-in PROJECT_ID EMAIL "NAME IN THE RECORD"

Lets an account of this installation into an imported project, in the place of one of the people of its record: with
that person's role. What the person did stays under the person's name. The account is there already: whoever comes in
has signed up. Once one contractor is in, the others can be invited on the page of people. Reads DATABASE_URL. Ends with
0 where the account is in, 1 where that is refused, 2 where it can't run.`;

async function main(): Promise<number> {
  const [projectId, email, memberName, ...rest] = process.argv.slice(2);
  if (projectId === undefined || email === undefined || memberName === undefined || rest.length > 0) {
    console.error(USAGE);
    return projectId === '--help' ? 0 : 2;
  }
  const databaseUrl = process.env.DATABASE_URL ?? '';
  let close = async () => Promise.resolve();
  try {
    if (!isId(projectId)) throw new NotFound('That project');
    const database = createDatabase(databaseUrl);
    close = () => database.close();
    const deps = compose(readConfig(process.env), database.prisma, databaseUrl);
    const { name, role } = await takeOverMembership(deps, { projectId, email, memberName });
    console.log(`${name} is in the project now, as ${role}, in the place of ${memberName}`);
    return 0;
  } catch (error) {
    const refused = error instanceof Refused || error instanceof NotFound;
    const known = refused || error instanceof StartProblem || error instanceof BadEnvironment;
    console.error((known ? error : databaseProblem(error, databaseUrl))?.message ?? error);
    return refused ? 1 : 2;
  } finally {
    await close();
  }
}

process.exitCode = await main();
