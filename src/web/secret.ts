import { randomBytes } from 'node:crypto';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';

/**
 * The key that signs form tokens and short-lived cookies, kept in the data folder where the environment gives
 * none. Sessions do not depend on it: they live in the database.
 */
export async function loadCookieSecret(dataFolder: string): Promise<string> {
  const file = path.join(dataFolder, 'cookie-secret');
  try {
    const kept = (await readFile(file, 'utf8')).trim();
    if (kept.length >= 32) return kept;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  const made = randomBytes(32).toString('base64url');
  await mkdir(dataFolder, { recursive: true });
  // `wx`: of two processes that start at once, the second reads what the first wrote.
  try {
    await writeFile(file, `${made}\n`, { mode: 0o600, flag: 'wx' });
    return made;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    return loadCookieSecret(dataFolder);
  }
}
