import { createBlobStore } from '../../attachments/storage/choose.ts';
import { createDatabase } from '../../database/client.ts';
import { databaseProblem, StartProblem } from '../../database/problems.ts';
import { Broken } from '../../record/verify/report.ts';
import { BadEnvironment, readConfig } from '../../web/config.ts';
import { ImportRefused, importPackage } from './import.ts';

const USAGE = `usage: scripts/import FILE

Takes the whole record of a project, as scripts/package wrote it, into this installation: with its ids and hashes, all
of it or nothing. Its people become accounts that nobody can sign in to. Reads DATABASE_URL, and DATA_DIR or the S3_
variables; the database must be migrated (start the service once). Ends with 0 where the record is in (or was, the
same), 1 where the package does not hold or other content is here, 2 where it can't run.`;

async function main(): Promise<number> {
  const [file, ...rest] = process.argv.slice(2);
  if (file === undefined || rest.length > 0 || file === '--help') {
    console.error(USAGE);
    return file === '--help' ? 0 : 2;
  }
  const databaseUrl = process.env.DATABASE_URL ?? '';
  let close = async () => Promise.resolve();
  try {
    const database = createDatabase(databaseUrl);
    close = () => database.close();
    const blobs = createBlobStore(readConfig(process.env));
    const outcome = await importPackage({ prisma: database.prisma, blobs, databaseUrl }, file);
    console.log(
      outcome === 'taken in' ? `${file} taken in and verified` : `${file} is here already; nothing changed`,
    );
    return 0;
  } catch (error) {
    if (error instanceof Broken) {
      const { table, row, sentence } = error.broken;
      console.error(`${file} BROKEN at ${table} ${row}: ${sentence} Nothing was taken in.`);
      return 1;
    }
    const known =
      error instanceof StartProblem || error instanceof BadEnvironment || error instanceof ImportRefused;
    console.error((known ? error : databaseProblem(error, databaseUrl))?.message ?? error);
    return error instanceof ImportRefused ? 1 : 2;
  } finally {
    await close();
  }
}

process.exitCode = await main();
