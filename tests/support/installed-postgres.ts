import { execFile } from 'node:child_process';
import { access, chown, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { freePort } from './running-server.ts';

const run = promisify(execFile);

/** The programs of a PostgreSQL that the machine has, server and backup of one version (Debian's folders). */
export interface InstalledPostgres {
  readonly version: string;
  readonly program: (name: string) => string;
}

const FOLDER = '/usr/lib/postgresql';
const NEEDED = ['initdb', 'pg_ctl', 'postgres', 'pg_dump', 'pg_restore', 'createdb'];

/** The newest one that is whole; null where there is none. */
export async function installedPostgres(): Promise<InstalledPostgres | null> {
  const versions = await readdir(FOLDER).catch((): string[] => []);
  for (const version of versions.toSorted((one, other) => Number(other) - Number(one))) {
    const program = (name: string) => path.join(FOLDER, version, 'bin', name);
    const whole = await Promise.all(NEEDED.map((name) => access(program(name)))).then(
      () => true,
      () => false,
    );
    if (whole) return { version, program };
  }
  return null;
}

export interface InstalledServer {
  readonly url: (database: string) => string;
  close: () => Promise<void>;
}

/** A server of it with a new cluster, on loopback; started by root it runs under the account that came with it. */
export async function startInstalledServer({ program }: InstalledPostgres): Promise<InstalledServer> {
  const folder = await mkdtemp(path.join(tmpdir(), 'lintelbook-installed-'));
  const cluster = path.join(folder, 'cluster');
  const port = await freePort();
  const isRoot = process.getuid?.() === 0;
  if (isRoot) {
    const { stdout } = await run('id', ['-u', 'postgres']);
    await chown(folder, Number(stdout), -1);
  }
  const as = (name: string, ...given: string[]) =>
    isRoot
      ? run('runuser', ['-u', 'postgres', '--', program(name), ...given], { cwd: folder })
      : run(program(name), given, { cwd: folder });
  await as(
    'initdb',
    '-D',
    cluster,
    '-U',
    'lintelbook',
    '-A',
    'trust',
    '-E',
    'UTF8',
    '--locale=C',
    '--no-sync',
  );
  const settings = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories= -c fsync=off`;
  await as('pg_ctl', '-D', cluster, '-l', path.join(folder, 'log'), '-o', settings, '-w', 'start');
  return {
    url: (database) => `postgresql://lintelbook@127.0.0.1:${port}/${database}`,
    async close() {
      await as('pg_ctl', '-D', cluster, '-m', 'fast', '-w', 'stop');
      await rm(folder, { recursive: true, force: true });
    },
  };
}
