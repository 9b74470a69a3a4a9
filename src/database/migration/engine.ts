import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import {
  bindMigrationAwareSqlAdapterFactory,
  ColumnTypeEnum,
  DriverAdapterError,
  type SqlQuery,
  type SqlResultSet,
} from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';

/**
 * Prisma's schema engine as WebAssembly, on one database connection.
 *
 * The command `prisma migrate` needs a native engine that is downloaded at run time; this build of the
 * same engine comes with npm, needs no network, and keeps the same table `_prisma_migrations`, so that
 * either may be used on one database. Its programming interface is not documented as public: the version
 * is pinned to that of Prisma, and this file is the only one that touches it.
 */
export type SchemaEngine = bindings.SchemaEngine;

export type { MigrationList, SchemasContainer } from '@prisma/schema-engine-wasm/schema_engine_bg';

/** Prisma knows no tables or enumerations here that are managed elsewhere. */
export const NO_FILTERS = { externalTables: [], externalEnums: [] };

/**
 * Opens an engine over one connection: the advisory lock, every statement, and a transaction opened on the
 * client around what the engine does, all share its session.
 *
 * @param onScriptError receives PostgreSQL's own error when a migration's script fails.
 */
export async function openSchemaEngine(
  client: pg.Client,
  onScriptError: (error: unknown) => void,
): Promise<SchemaEngine> {
  instantiated ??= instantiate();
  await instantiated;
  const factory = bindMigrationAwareSqlAdapterFactory(new MigrationAdapterFactory(client, onScriptError));
  // What the engine logs is the text of each migration; failures arrive as errors.
  return bindings.SchemaEngine.new({ datamodels: undefined }, () => undefined, factory);
}

let instantiated: Promise<void> | undefined;

/** Part of Node; TypeScript declares it only among the browser's types. */
declare const WebAssembly: {
  instantiate(
    bytes: Uint8Array,
    imports: Record<string, Record<string, unknown>>,
  ): Promise<{ instance: { exports: Record<string, unknown> } }>;
};

/** Node cannot import a .wasm file as a module without a flag, so the package's own entry is of no use. */
async function instantiate(): Promise<void> {
  const entry = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg');
  const bytes = await readFile(entry.replace(/\.js$/, '.wasm'));
  const imports = Object.fromEntries(
    Object.entries(bindings).map(([name, binding]: [string, unknown]) => [
      name,
      name.startsWith('__wbg_setTimeout_') ? withoutHolding(binding as Timer) : binding,
    ]),
  );
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': imports });
  bindings.__wbg_set_wasm(instance.exports);
  (instance.exports.__wbindgen_start as () => void)();
}

type Timer = (...given: unknown[]) => NodeJS.Timeout;

/** The engine limits its wait for the lock to ten seconds and forgets that timer; it must not hold up exit. */
function withoutHolding(setTimer: Timer): Timer {
  return (...given) => setTimer(...given).unref();
}

/** `PrismaPg` with three repairs that migrations need. */
class MigrationAdapterFactory extends PrismaPg {
  readonly #client: pg.Client;
  readonly #onScriptError: (error: unknown) => void;

  constructor(client: pg.Client, onScriptError: (error: unknown) => void) {
    // A pool throws a connection away after any failed query, and the session's lock with it. The adapter
    // insists on a pool, so it gets one that never connects and hands its queries to the client.
    const shell = new pg.Pool({ max: 1 });
    Object.assign(shell, { query: client.query.bind(client) });
    super(shell);
    this.#client = client;
    this.#onScriptError = onScriptError;
  }

  override async connect(): ReturnType<PrismaPg['connect']> {
    const adapter = await super.connect();
    const client = this.#client;
    // The original splits a script at every semicolon, also inside function bodies and comments, and
    // runs the pieces one by one. Sent whole, PostgreSQL parses it itself.
    adapter.executeScript = async (script: string): Promise<void> => {
      try {
        await client.query(script);
      } catch (error) {
        this.#onScriptError(error);
        throw error;
      }
    };
    // The original refuses PostgreSQL's internal type "char", in which the catalog describes constraints.
    const queryRaw = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (query: SqlQuery): Promise<SqlResultSet> => {
      try {
        return await queryRaw(query);
      } catch (error) {
        if (error instanceof DriverAdapterError && error.cause.kind === 'UnsupportedNativeDataType') {
          return queryCatalog(client, query);
        }
        throw error;
      }
    };
    return adapter;
  }
}

/** Types in pg_catalog by their fixed object number (src/include/catalog/pg_type.dat). */
const CATALOG_TYPES: ReadonlyMap<number, SqlResultSet['columnTypes'][number]> = new Map([
  [16 /* bool */, ColumnTypeEnum.Boolean],
  [18 /* "char" */, ColumnTypeEnum.Character],
  [19 /* name */, ColumnTypeEnum.Text],
  [20 /* int8 */, ColumnTypeEnum.Int64],
  [21 /* int2 */, ColumnTypeEnum.Int32],
  [23 /* int4 */, ColumnTypeEnum.Int32],
  [25 /* text */, ColumnTypeEnum.Text],
  [26 /* oid */, ColumnTypeEnum.Int64],
  [1003 /* name[] */, ColumnTypeEnum.TextArray],
  [1009 /* text[] */, ColumnTypeEnum.TextArray],
]);

async function queryCatalog(client: pg.Client, query: SqlQuery): Promise<SqlResultSet> {
  const result = await client.query<unknown[]>({ text: query.sql, values: query.args, rowMode: 'array' });
  return {
    columnNames: result.fields.map((field) => field.name),
    columnTypes: result.fields.map((field) => {
      const type = CATALOG_TYPES.get(field.dataTypeID);
      if (type === undefined) throw new Error(`catalog column ${field.name} has type ${field.dataTypeID}`);
      return type;
    }),
    rows: result.rows,
  };
}
