import type { PrismaClient } from '../../database/generated/client.ts';

/** How many checks of each of these versions are not met, by the version's id; none for those that meet all. One query. */
export async function checksNotMet(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  versionIds: readonly string[],
): Promise<Readonly<Record<string, number>>> {
  if (versionIds.length === 0) return {};
  const rows = await prisma.$queryRaw<{ versionId: string; count: number }[]>`
    SELECT v.id AS "versionId", count(*)::int AS count
    FROM version v
    CROSS JOIN LATERAL json_array_elements(NULLIF(v.calculation, '')::json -> 'checks') AS judged
    WHERE v.project_id = ${projectId}::uuid AND v.id = ANY(${[...versionIds]}::uuid[])
      AND judged ->> 'passes' = 'false'
    GROUP BY v.id`;
  return Object.fromEntries(rows.map(({ versionId, count }) => [versionId, count]));
}
