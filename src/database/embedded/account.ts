import { execFile, spawnSync } from 'node:child_process';
import { stat } from 'node:fs/promises';
import { promisify } from 'node:util';
import { StartProblem } from '../problems.ts';

/**
 * The operating-system account that the server runs under. PostgreSQL refuses to run as root; started
 * by an ordinary user it simply runs as that user and both numbers are absent.
 */
export interface ServerAccount {
  readonly uid?: number;
  readonly gid?: number;
}

const run = promisify(execFile);

/** The account's name where one is needed: the customary one of the trade. */
const ACCOUNT_NAME = 'postgres';

/**
 * The account for a cluster: nobody in particular for an ordinary user; for root the owner of the
 * existing cluster (PostgreSQL insists on it), else the account "postgres", created when missing.
 *
 * @throws StartProblem when root cannot find or create such an account.
 */
export async function serverAccount(existingCluster: string | undefined): Promise<ServerAccount> {
  if (process.getuid?.() !== 0) return {};
  if (existingCluster !== undefined) {
    const { uid, gid } = await stat(existingCluster);
    if (uid !== 0) return { uid, gid };
  }
  const known = await lookUp();
  if (known !== undefined) return known;
  try {
    await run('useradd', [
      '--system',
      '--user-group',
      '--no-create-home',
      '--shell',
      '/usr/sbin/nologin',
      ACCOUNT_NAME,
    ]);
  } catch (error) {
    // Two starts at the same moment: the other one may have created it.
    const created = await lookUp();
    if (created !== undefined) return created;
    throw new StartProblem(
      `PostgreSQL does not run as root, and no account "${ACCOUNT_NAME}" could be created for it.`,
      `Start as an ordinary user, create the account (useradd --system ${ACCOUNT_NAME}), or set DATABASE_URL.`,
      error,
    );
  }
  const created = await lookUp();
  if (created === undefined) throw new Error(`useradd made no account "${ACCOUNT_NAME}"`);
  return created;
}

async function lookUp(): Promise<ServerAccount | undefined> {
  try {
    const [uid, gid] = await Promise.all([
      run('id', ['-u', ACCOUNT_NAME]).then(({ stdout }) => Number.parseInt(stdout, 10)),
      run('id', ['-g', ACCOUNT_NAME]).then(({ stdout }) => Number.parseInt(stdout, 10)),
    ]);
    return { uid, gid };
  } catch {
    return undefined;
  }
}

/**
 * Whether the account can get at a path ("x": pass through or execute, "w": write). It is tried out under
 * that account rather than computed from mode bits, so that access lists and mount options count too.
 */
export function accountCan(account: ServerAccount, permission: 'x' | 'w', path: string): boolean {
  return (
    spawnSync('/bin/sh', ['-c', `test -${permission} "$0"`, path], { ...account, cwd: '/' }).status === 0
  );
}
