import { randomBytes } from 'node:crypto';
import { spawn } from 'node:child_process';
import { access, chown, mkdir, mkdtemp, readFile, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { StartProblem } from '../problems.ts';
import { processIsAlive } from './lock.ts';
import type { Placement } from './placement.ts';

/** The role that owns the cluster, and the database in it. */
export const CLUSTER_USER = 'lintelbook';

const PASSWORD_FILE = 'lintelbook.password';
const UNFINISHED = 'cluster.new-';

/**
 * Creates the cluster unless it is there, and gives back the password of its owner.
 *
 * Everything is made in a folder of another name and then renamed: a start that was cut short leaves no
 * half-made cluster behind, and of two first starts at the same moment one wins and both go on.
 *
 * @throws StartProblem when the cluster is of another PostgreSQL major version, or cannot be made.
 */
export async function openCluster(placement: Placement, durable: boolean): Promise<{ password: string }> {
  const { cluster, binaries } = placement;
  if (!(await exists(cluster))) await createCluster(placement, durable);
  try {
    const major = Number.parseInt(await readFile(join(cluster, 'PG_VERSION'), 'utf8'), 10);
    if (major !== binaries.major) {
      throw new StartProblem(
        `The database in ${cluster} was made by PostgreSQL ${major}; the built-in server is PostgreSQL ${binaries.major}.`,
        'Dump it with the old version and load it into a new folder (pg_dump, psql), or go back to the old version.',
      );
    }
    return { password: (await readFile(join(cluster, PASSWORD_FILE), 'utf8')).trim() };
  } catch (error) {
    if (error instanceof StartProblem) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    throw code === 'ENOENT'
      ? new StartProblem(
          `The folder ${cluster} holds no database of this program.`,
          'Move it away, or set DATA_DIR to another folder.',
          error,
        )
      : new StartProblem(
          `The database in ${cluster} belongs to another user.`,
          'Start as that user, or set DATA_DIR to a folder of your own.',
          error,
        );
  }
}

async function createCluster(placement: Placement, durable: boolean): Promise<void> {
  const { account, folder, cluster } = placement;
  await removeAbandoned(folder);
  const unfinished = join(folder, `${UNFINISHED}${process.pid}`);
  await mkdir(unfinished, { mode: 0o700 });
  const password = randomBytes(24).toString('base64url');
  // initdb reads the password from a file, under the server's account, and wants its folder empty.
  const handover = await mkdtemp(join(tmpdir(), 'lintelbook-'));
  try {
    const passwordFile = join(handover, 'password');
    await writeFile(passwordFile, password, { mode: 0o600 });
    if (account.uid !== undefined && account.gid !== undefined) {
      for (const path of [unfinished, handover, passwordFile]) await chown(path, account.uid, account.gid);
    }
    await initialise(placement, unfinished, passwordFile, durable);
    const kept = join(unfinished, PASSWORD_FILE);
    await writeFile(kept, `${password}\n`, { mode: 0o600 });
    if (account.uid !== undefined && account.gid !== undefined) await chown(kept, account.uid, account.gid);
    await rename(unfinished, cluster).catch(async (error: unknown) => {
      if (!(await exists(cluster))) throw error;
    });
  } finally {
    await rm(handover, { recursive: true, force: true });
    await rm(unfinished, { recursive: true, force: true });
  }
}

async function initialise(
  { account, binaries }: Placement,
  target: string,
  passwordFile: string,
  durable: boolean,
): Promise<void> {
  const options = [
    `--pgdata=${target}`,
    `--username=${CLUSTER_USER}`,
    `--pwfile=${passwordFile}`,
    '--auth=scram-sha-256',
    '--encoding=UTF8',
    // The server's own collation: the data stays readable after an upgrade of the system's locales.
    '--locale=C',
    '--locale-provider=builtin',
    '--builtin-locale=C.UTF-8',
    '--data-checksums',
    ...(durable ? [] : ['--no-sync']),
  ];
  const child = spawn(binaries.initdb, options, {
    ...account,
    cwd: '/',
    env: serverEnvironment(),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text: string) => (output += text));
  }
  const code = await new Promise<number | null>((done, fail) => {
    child.on('error', fail);
    child.on('close', done);
  }).catch((error: unknown) => {
    throw new StartProblem(`${binaries.initdb} cannot be run.`, 'Run "npm rebuild".', error);
  });
  if (code === 0) return;
  throw new StartProblem(
    `The database could not be created: ${lastLine(output)}`,
    `Check that the disk has free space and that the folder ${target} can be written.`,
    output,
  );
}

/** Only what the server needs: foreign PG… variables would change what it does. */
export function serverEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !/^(PG|LC_|LANG)/.test(name));
  return { ...Object.fromEntries(kept), LC_ALL: 'C' };
}

/** Removes what starts that were cut short left behind. */
async function removeAbandoned(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!name.startsWith(UNFINISHED)) continue;
    const owner = Number.parseInt(name.slice(UNFINISHED.length), 10);
    if (owner === process.pid || !processIsAlive(owner)) {
      await rm(join(folder, name), { recursive: true, force: true });
    }
  }
}

function lastLine(output: string): string {
  return (
    output
      .trim()
      .split('\n')
      .findLast((line) => /error|fatal|could not/i.test(line)) ?? output.trim()
  );
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
