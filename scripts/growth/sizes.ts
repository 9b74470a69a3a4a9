import type postgres from 'postgres';

/** Rows and megabytes of the large tables and of their indexes. */
export async function sizes(sql: postgres.Sql): Promise<void> {
  const tables = await sql<{ table: string; rows: number; data: number; indexes: number }[]>`
    SELECT relname AS "table", reltuples::float8 AS rows,
           (pg_table_size(oid) / 1e6)::float8 AS data, (pg_indexes_size(oid) / 1e6)::float8 AS indexes
    FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND reltuples > 0
    ORDER BY pg_total_relation_size(oid) DESC LIMIT 14`;
  console.table(
    tables.map(({ table, rows, data, indexes }) => ({
      table,
      rows: Math.round(rows),
      'data, MB': Math.round(data),
      'indexes, MB': Math.round(indexes),
    })),
  );
  const indexes = await sql<{ index: string; mb: number }[]>`
    SELECT relname AS index, (pg_relation_size(oid) / 1e6)::float8 AS mb FROM pg_class
    WHERE relkind = 'i' AND relnamespace = 'public'::regnamespace ORDER BY pg_relation_size(oid) DESC LIMIT 10`;
  console.table(indexes.map(({ index, mb }) => ({ index, MB: Math.round(mb) })));
}
