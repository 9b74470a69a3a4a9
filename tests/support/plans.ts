import type { PrismaClient } from '../../src/database/generated/client.ts';
import type { SentQuery } from './queries.ts';

/** Tables with so many rows or more, by the planner's own count. */
export async function bigTables(prisma: PrismaClient, rows: number): Promise<readonly string[]> {
  const big = await prisma.$queryRaw<{ relname: string }[]>`
    SELECT relname FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace
      AND reltuples >= ${rows}`;
  return big.map(({ relname }) => relname);
}

export interface JudgedPlans {
  /** Different statements whose plans were looked at. */
  readonly judged: number;
  /** For each that reads one of the tables from end to end: whence it comes, its words and its plan. */
  readonly readWhole: readonly string[];
}

/** Looks at PostgreSQL's plan for each different query that was sent, with the values it was sent with. */
export async function judgePlans(
  prisma: PrismaClient,
  sentFrom: Iterable<readonly [from: string, sent: readonly SentQuery[]]>,
  tables: readonly string[],
): Promise<JudgedPlans> {
  const judged = new Set<string>();
  const readWhole: string[] = [];
  for (const [from, sent] of sentFrom) {
    for (const { sql, values } of sent) {
      if (!/^\s*(SELECT|WITH)/i.test(sql) || judged.has(sql)) continue;
      judged.add(sql);
      const plan = await prisma.$queryRawUnsafe<{ 'QUERY PLAN': string }[]>(`EXPLAIN ${sql}`, ...values);
      const lines = plan.map((row) => row['QUERY PLAN']);
      if (tables.some((table) => walksWhole(lines, table))) {
        readWhole.push(`${from}: ${sql.trim().slice(0, 300)}\n${lines.join('\n')}`);
      }
    }
  }
  return { judged: judged.size, readWhole };
}

/** Does the plan read the table, or one of its indexes, from end to end? */
function walksWhole(plan: readonly string[], table: string): boolean {
  // PostgreSQL quotes a table that is named like a word of its own.
  const on = [` on ${table} `, ` on "${table}" `];
  return plan.some((line, place) => {
    if (!on.some((words) => line.includes(words))) return false;
    if (line.includes('Seq Scan')) return true;
    // Along an index without a condition on it: in the order of the key, to throw away what is another project's.
    return /Index (?:Only )?Scan/.test(line) && !(plan[place + 1] ?? '').includes('Index Cond:');
  });
}
