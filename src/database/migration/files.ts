import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { StartProblem } from '../problems.ts';
import type { MigrationList, SchemasContainer } from './engine.ts';

/** The project's schema.prisma and migrations. */
export const PRISMA_FOLDER = fileURLToPath(new URL('../../../prisma', import.meta.url));

/** Reads a folder of migrations, `<time>_<name>/migration.sql`, in the order of their names. */
export async function readMigrations(folder: string): Promise<MigrationList> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  names.sort();
  return {
    baseDir: folder,
    lockfile: { path: 'migration_lock.toml', content: 'provider = "postgresql"\n' },
    shadowDbInitScript: '',
    migrationDirectories: await Promise.all(
      names.map(async (name) => {
        const value = await readFile(join(folder, name, 'migration.sql'), 'utf8');
        refuseTransactionControl(name, value);
        return { path: name, migrationFile: { path: 'migration.sql', content: { tag: 'ok', value } } };
      }),
    ),
  };
}

/** Reads schema.prisma for the engine. */
export async function readSchema(file: string): Promise<SchemasContainer> {
  return { files: [{ path: file, content: await readFile(file, 'utf8') }] };
}

/**
 * Each migration runs inside one transaction together with its row in `_prisma_migrations`; a COMMIT of
 * its own would leave half of it behind when the rest fails.
 */
function refuseTransactionControl(name: string, sql: string): void {
  const outsideBodies = sql
    .replace(/\$(\w*)\$[\s\S]*?\$\1\$/g, '')
    .replace(/--.*$/gm, '')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/'(?:[^']|'')*'/g, "''");
  const found =
    /(?:^|;)\s*(begin|commit|rollback|abort|end|start\s+transaction|savepoint|prepare\s+transaction)\b[^;]*(?:;|$)/i.exec(
      outsideBodies,
    );
  if (found === null) return;
  throw new StartProblem(
    `The migration ${name} controls transactions itself (${(found[1] ?? '').toUpperCase()}).`,
    'Take that statement out: each migration already runs in a transaction of its own.',
  );
}
