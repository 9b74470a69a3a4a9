import { createBlobStore } from '../../attachments/storage/choose.ts';
import { brokenFiles } from '../../attachments/verify.ts';
import { createDatabase } from '../../database/client.ts';
import { databaseProblem, StartProblem } from '../../database/problems.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { BadEnvironment, readConfig } from '../../web/config.ts';
import { verifyPackage } from '../../report/package/verify.ts';
import { isId } from '../identifier.ts';
import { Broken, type VerifiedProject } from './report.ts';
import { verifyProject } from './verify.ts';

const USAGE = `usage: scripts/verify PROJECT_ID | --all | --package FILE

Recomputes the record of a project (or of all): every hash, the chain of events, every row against its event, the
bytes of every file. With --package the same for a package that scripts/package wrote, by itself: the sums of its
files, the chain, the hashes of versions and sets. Reads (but for a package) DATABASE_URL, and DATA_DIR or the S3_ variables. Ends with 0 where everything holds, 1 at a break (the first one is named), 2 where it can't run.`;

function line(project: VerifiedProject): string {
  const { projectId, events, versions, marks, sets, head, broken } = project;
  if (broken !== null) return `${projectId} BROKEN at ${broken.table} ${broken.row}: ${broken.sentence}`;
  const counts = `${events} events, ${versions} versions, ${marks} marks, ${sets} sets`;
  return `${projectId} OK: ${counts}; the log ends at ${head === null ? 'nothing' : `${head.seq} ${head.hash}`}`;
}

async function projectIds(prisma: PrismaClient, argument: string): Promise<readonly string[]> {
  if (argument === '--all') {
    const projects = await prisma.project.findMany({ select: { id: true }, orderBy: { createdAt: 'asc' } });
    return projects.map((project) => project.id);
  }
  const project = isId(argument.toLowerCase())
    ? await prisma.project.findUnique({ where: { id: argument }, select: { id: true } })
    : null;
  if (!project)
    throw new StartProblem(`There is no project ${argument}.`, 'Give the id from its address, or --all.');
  return [project.id];
}

/** A package stands for itself: neither database nor file store is asked. */
async function packageHolds(file: string): Promise<number> {
  try {
    const { projectId, files, events, versions, sets, head } = await verifyPackage(file);
    const counts = `${files} files, ${events} events, ${versions} versions, ${sets} sets`;
    console.log(
      `${projectId} OK: ${counts}; the log ends at ${head === null ? 'nothing' : `${head.seq} ${head.hash}`}`,
    );
    return 0;
  } catch (error) {
    if (error instanceof Broken) {
      const { table, row, sentence } = error.broken;
      console.log(`${file} BROKEN at ${table} ${row}: ${sentence}`);
      return 1;
    }
    console.error(error instanceof Error ? error.message : error);
    return 2;
  }
}

async function main(): Promise<number> {
  const [argument, ...rest] = process.argv.slice(2);
  if (argument === '--package' && rest[0] !== undefined && rest.length === 1) return packageHolds(rest[0]);
  if (argument === undefined || rest.length > 0 || argument === '--help') {
    console.error(USAGE);
    return argument === '--help' ? 0 : 2;
  }
  const url = process.env.DATABASE_URL ?? '';
  let close = async () => Promise.resolve();
  try {
    const database = createDatabase(url);
    close = () => database.close();
    const blobs = createBlobStore(readConfig(process.env));
    let intact = true;
    for (const projectId of await projectIds(database.prisma, argument)) {
      const project = await verifyProject(database.prisma, projectId);
      console.log(line(project));
      intact &&= project.broken === null;
      const files = brokenFiles(database.prisma, blobs, projectId);
      let next = await files.next();
      let broken = 0;
      for (; next.done !== true; next = await files.next()) {
        broken += 1;
        const { table, row, sentence } = next.value;
        console.log(`${projectId} BROKEN at ${table} ${row}: ${sentence}`);
      }
      if (broken === 0) console.log(`${projectId} OK: ${next.value} files have their hash`);
      intact &&= broken === 0;
    }
    return intact ? 0 : 1;
  } catch (error) {
    const problem =
      error instanceof StartProblem || error instanceof BadEnvironment ? error : databaseProblem(error, url);
    console.error(problem?.message ?? error);
    return 2;
  } finally {
    await close();
  }
}

process.exitCode = await main();
