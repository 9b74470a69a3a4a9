import { createWriteStream } from 'node:fs';
import { rename, rm, stat } from 'node:fs/promises';
import type { Actor } from '../../actor.ts';
import { createDatabase } from '../../database/client.ts';
import { databaseProblem, StartProblem } from '../../database/problems.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { isId } from '../../record/identifier.ts';
import { compose } from '../../web/compose.ts';
import { BadEnvironment, readConfig } from '../../web/config.ts';
import { HashFailure } from '../../problems.ts';
import { writePackage } from './write.ts';

const USAGE = `usage: scripts/package PROJECT_ID FILE

Writes the whole record of a project to FILE, a ZIP: rows, files, papers, a page to read without the service, and the
list of sums. Reads DATABASE_URL, and DATA_DIR or the S3_ variables. FILE must not exist; it appears when it is whole.
Check it with scripts/verify --package FILE, or unpacked with sha256sum -c SHA256SUMS.`;

/** In whose name papers are made: who sees all of the record. */
async function actorOf(prisma: PrismaClient, projectId: string): Promise<Actor | null> {
  const member = await prisma.membership.findFirst({
    where: { projectId, revokedAt: null, role: { in: ['contractor', 'engineer'] } },
    orderBy: [{ role: 'asc' }, { createdAt: 'asc' }],
    include: { person: { select: { name: true } } },
  });
  if (member === null) return null;
  return { personId: member.personId, name: member.person.name, role: member.role, projectId };
}

async function isThere(file: string): Promise<boolean> {
  return stat(file).then(
    () => true,
    () => false,
  );
}

async function main(): Promise<number> {
  const [projectId, file, ...rest] = process.argv.slice(2);
  if (projectId === undefined || file === undefined || rest.length > 0) {
    console.error(USAGE);
    return projectId === '--help' ? 0 : 2;
  }
  const url = process.env.DATABASE_URL ?? '';
  let close = async () => Promise.resolve();
  const unfinished = `${file}.unfinished`;
  try {
    const database = createDatabase(url);
    close = () => database.close();
    const project = isId(projectId.toLowerCase())
      ? await database.prisma.project.findUnique({ where: { id: projectId } })
      : null;
    if (project === null)
      throw new StartProblem(`There is no project ${projectId}.`, 'Give the id from its address.');
    if (await isThere(file))
      throw new StartProblem(`${file} is there already.`, 'Name a file that does not exist.');
    const deps = compose(readConfig(process.env), database.prisma);
    const actor = await actorOf(database.prisma, project.id);
    const order = { databaseUrl: url, projectId: project.id, projectName: project.name, actor };
    const manifest = await writePackage(deps, order, createWriteStream(unfinished, { mode: 0o600 }));
    await rename(unfinished, file);
    const head = manifest.head === null ? 'nothing' : `${manifest.head.seq} ${manifest.head.hash}`;
    console.log(`${project.id} written: ${manifest.entries.length} files; the log ends at ${head}`);
    return 0;
  } catch (error) {
    await rm(unfinished, { force: true });
    const known =
      error instanceof StartProblem || error instanceof BadEnvironment || error instanceof HashFailure;
    const problem = known ? error : databaseProblem(error, url);
    console.error(problem?.message ?? error);
    return 2;
  } finally {
    await close();
  }
}

process.exitCode = await main();
