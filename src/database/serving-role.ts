import pg from 'pg';
import { databaseProblem, parseDatabaseUrl, StartProblem } from './problems.ts';

/** Both of the same database: who owns it and migrates, and who serves pages with fewer rights. */
export interface DatabaseUrls {
  readonly owner: string;
  readonly serving: string;
}

export interface ServingRoleOptions {
  /** Schemas beside `public` whose rows the service reads and writes. */
  readonly schemas: readonly string[];
  /** The role is of the program's own making: its password becomes the one of the URL. */
  readonly ownRole?: boolean;
}

/**
 * Lets the serving role do what the service does, and no more (OWASP ASVS 5.0, 13.2.2): read and write rows, but make,
 * alter and drop nothing. Of tables whose rows are never changed (a trigger says which) it may add to and read alone, so
 * that not even its trigger, which only the owner can drop, stands between it and the record. Whatever it was granted
 * before is taken back first, in the same transaction. The role is made where it is missing.
 *
 * @throws StartProblem where the role can't be made, or owns the tables itself
 */
export async function grantServing(urls: DatabaseUrls, options: ServingRoleOptions): Promise<void> {
  const { username, password } = parseDatabaseUrl(urls.serving);
  const client = new pg.Client({ connectionString: urls.owner, application_name: 'lintelbook rights' });
  client.on('error', () => undefined);
  try {
    await client.connect();
    await client.query('BEGIN');
    // Two processes that start at once would grant the same rows of the catalogue.
    await client.query('SELECT pg_advisory_xact_lock($1)', [GRANTING_LOCK]);
    const role = decodeURIComponent(username);
    await makeRole(client, role, decodeURIComponent(password), options.ownRole ?? false);
    await refuseOwner(client, role);
    for (const statement of await grants(client, role, options.schemas)) await client.query(statement);
    await client.query('COMMIT');
  } catch (error) {
    throw databaseProblem(error, urls.owner) ?? error;
  } finally {
    await client.end();
  }
}

/** Lintelbook's own. */
const GRANTING_LOCK = 70_041_970;

async function makeRole(client: pg.Client, role: string, password: string, own: boolean): Promise<void> {
  const { rowCount } = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [role]);
  if (rowCount !== 0 && !own) return;
  const verb = rowCount === 0 ? 'CREATE' : 'ALTER';
  try {
    await client.query(
      `${verb} ROLE ${client.escapeIdentifier(role)} LOGIN PASSWORD ${client.escapeLiteral(password)}`,
    );
  } catch (error) {
    if (!(error instanceof pg.DatabaseError) || error.code !== '42501') throw error;
    throw new StartProblem(
      `The user "${role}" of DATABASE_URL is not there, and the one of MIGRATION_DATABASE_URL may not make it.`,
      `Make it (CREATE ROLE "${role}" LOGIN PASSWORD …), or let the other one (CREATEROLE).`,
      error,
    );
  }
}

/** An owner can switch off the triggers and give itself every right: a role that serves must be none. */
async function refuseOwner(client: pg.Client, role: string): Promise<void> {
  const { rows } = await client.query<{ owns: boolean }>(
    `SELECT pg_has_role($1, relowner, 'MEMBER') AS owns FROM pg_class WHERE oid = 'public.event'::regclass`,
    [role],
  );
  if (rows[0]?.owns !== true) return;
  throw new StartProblem(
    `The user "${role}" of DATABASE_URL owns the tables, or may become who does.`,
    'Name one of its own there, or leave MIGRATION_DATABASE_URL unset to serve as the owner.',
  );
}

async function grants(client: pg.Client, role: string, schemas: readonly string[]): Promise<string[]> {
  const { rows } = await client.query<{ schema: string; name: string; kept: boolean }>(TABLES, [
    ['public', ...schemas],
  ]);
  const to = client.escapeIdentifier(role);
  const { rows: here } = await client.query<{ name: string }>('SELECT current_database() AS name');
  const database = client.escapeIdentifier(here[0]?.name ?? '');
  const bySchema = ['public', ...schemas].flatMap((schema) => {
    const name = client.escapeIdentifier(schema);
    return [
      `REVOKE CREATE ON SCHEMA ${name} FROM PUBLIC, ${to}`,
      `GRANT USAGE ON SCHEMA ${name} TO ${to}`,
      `REVOKE ALL ON ALL TABLES IN SCHEMA ${name} FROM PUBLIC, ${to}`,
      `GRANT USAGE ON ALL SEQUENCES IN SCHEMA ${name} TO ${to}`,
    ];
  });
  const byTable = rows.map(({ schema, name, kept }) => {
    const rights =
      name === '_prisma_migrations' ? 'SELECT' : kept ? ADDED_TO : 'SELECT, INSERT, UPDATE, DELETE';
    return `GRANT ${rights} ON ${client.escapeIdentifier(schema)}.${client.escapeIdentifier(name)} TO ${to}`;
  });
  return [
    `REVOKE CREATE, TEMPORARY ON DATABASE ${database} FROM PUBLIC, ${to}`,
    `GRANT CONNECT ON DATABASE ${database} TO ${to}`,
    ...bySchema,
    ...byTable,
    // What the owner of a house may see of a file moves (refuse_attachment_change).
    `GRANT UPDATE (shared_with_owner) ON attachment TO ${to}`,
  ];
}

const ADDED_TO = 'SELECT, INSERT';

/** Every table, and whether a trigger for each row keeps its rows as they are (the BEFORE, ROW, UPDATE and DELETE bits of `tgtype`). */
const TABLES = `
  SELECT n.nspname AS schema, c.relname AS name, EXISTS (
    SELECT FROM pg_trigger t JOIN pg_proc p ON p.oid = t.tgfoid
    WHERE t.tgrelid = c.oid AND p.proname IN ('refuse_change', 'refuse_attachment_change')
      AND t.tgtype & 27 = 27
  ) AS kept
  FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
  WHERE n.nspname = ANY($1) AND c.relkind IN ('r', 'p')`;
