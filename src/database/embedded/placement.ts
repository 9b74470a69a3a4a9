import { createHash } from 'node:crypto';
import { access, chown, mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { StartProblem } from '../problems.ts';
import { accountCan, serverAccount, type ServerAccount } from './account.ts';
import { copyServerBinaries, locateServerBinaries, type ServerBinaries } from './binaries.ts';

/** Where the server's files are, and who runs it. */
export interface Placement {
  readonly account: ServerAccount;
  readonly binaries: ServerBinaries;
  /** Holds the cluster and nothing else. */
  readonly folder: string;
  /** The PostgreSQL data directory; may not exist yet. */
  readonly cluster: string;
}

/**
 * Decides where the cluster lives.
 *
 * It is the folder asked for, whenever the server's account can reach it. Root's own account cannot run
 * PostgreSQL, and another account cannot pass through a folder like /root (mode 700); then the cluster
 * and a copy of the programs go below `fallbackParent`, in a folder named after a hash of the path asked
 * for, so that each copy of the project keeps its own data. That parent is not a temporary folder: systems
 * empty those on restart. A cluster already there stays in use even if the folder asked for becomes
 * reachable later, so that data never seems lost.
 *
 * @throws StartProblem when neither place can be used.
 */
export async function placeServer(
  dataFolder: string,
  fallbackParent: string,
  log: (line: string) => void,
): Promise<Placement> {
  const binaries = await locateServerBinaries();
  const wanted = resolve(dataFolder);
  const cluster = join(wanted, 'cluster');
  try {
    await mkdir(wanted, { recursive: true });
    const account = await serverAccount((await isThere(cluster)) ? cluster : undefined);
    if (account.uid === undefined) {
      await access(wanted, 7 /* read, write, pass through */);
      return { account, binaries, folder: wanted, cluster };
    }
    return await placeForRoot(account, binaries, wanted, fallbackParent, log);
  } catch (error) {
    if (error instanceof StartProblem) throw error;
    throw new StartProblem(
      `The database folder ${wanted} cannot be used by this user.`,
      'Start as the user who owns it, or set DATA_DIR to a folder that you may write to.',
      error,
    );
  }
}

async function placeForRoot(
  account: ServerAccount,
  binaries: ServerBinaries,
  wanted: string,
  fallbackParent: string,
  log: (line: string) => void,
): Promise<Placement> {
  const fallback = join(fallbackParent, createHash('sha256').update(wanted).digest('hex').slice(0, 12));
  const fallbackInUse =
    (await isThere(join(fallback, 'cluster'))) && !(await isThere(join(wanted, 'cluster')));
  let folder = fallback;
  if (!fallbackInUse) {
    await giveTo(account, wanted);
    if (accountCan(account, 'w', wanted)) folder = wanted;
  }
  if (folder === fallback) {
    await mkdir(fallback, { recursive: true, mode: 0o755 });
    await giveTo(account, fallback);
    log(
      `PostgreSQL cannot run as root, and its account cannot use ${wanted}; the database is in ${fallback}.`,
    );
  }
  const reachable = accountCan(account, 'x', binaries.postgres)
    ? binaries
    : await copyServerBinaries(binaries, join(fallbackParent, 'programs'));
  return { account, binaries: reachable, folder, cluster: join(folder, 'cluster') };
}

async function giveTo(account: ServerAccount, folder: string): Promise<void> {
  if (account.uid !== undefined && account.gid !== undefined) await chown(folder, account.uid, account.gid);
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
