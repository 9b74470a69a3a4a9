import type { PrismaClient } from '../../database/generated/client.ts';

/** What waits between owner and contractor: something to decide, something that comes out of the wall, a question. */
export interface OwnersMatter {
  /** Whose word is awaited: the viewer's. */
  readonly role: 'owner' | 'contractor';
  readonly about: 'words' | 'salvage';
  readonly projectId: string;
  readonly openingId: string;
  readonly openingName: string;
  readonly words: string;
  readonly since: Date;
  /** Of all such matters of this role, however many are listed. */
  readonly total: number;
}

/**
 * What waits for a person as owner (decisions asked for, salvage listed and not decided) or as contractor (the owner's
 * questions), oldest first, over all projects. Who else is in a project sees none of it. One query.
 */
export async function ownersMatters(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  personId: string,
  limit: number,
): Promise<OwnersMatter[]> {
  return prisma.$queryRaw<OwnersMatter[]>`
    WITH mine AS (
      SELECT project_id, role FROM membership
      WHERE person_id = ${personId}::uuid AND revoked_at IS NULL AND role IN ('owner', 'contractor')
    ), last AS (
      SELECT DISTINCT ON (coalesce(word.thread_id, word.id))
             mine.role, coalesce(word.thread_id, word.id) AS thread_id, word.by_role, word.at
      FROM mine JOIN owner_word word ON word.project_id = mine.project_id
      ORDER BY coalesce(word.thread_id, word.id), word.at DESC
    ), waiting AS (
      -- Whoever began a thread and spoke last waits for the other one: waitsOn of words.ts.
      SELECT last.role, 'words' AS about, first.project_id, first.opening_id, first.text AS words, last.at AS since
      FROM last JOIN owner_word first ON first.id = last.thread_id
      WHERE last.by_role = first.by_role AND first.by_role <> last.role
      UNION ALL
      SELECT mine.role, 'salvage', line.project_id, line.opening_id, line.what || ', ' || line.how_many, line.at
      FROM mine JOIN salvage_line line ON line.project_id = mine.project_id
      WHERE mine.role = 'owner' AND NOT EXISTS (SELECT 1 FROM salvage_word WHERE salvage_line_id = line.id)
    ), numbered AS (
      SELECT waiting.*, count(*) OVER (PARTITION BY role)::int AS total FROM waiting
    )
    SELECT role::text AS role, about, numbered.project_id AS "projectId", opening.id AS "openingId",
           opening.name AS "openingName", words, since, total
    FROM numbered JOIN opening ON opening.id = numbered.opening_id
    ORDER BY since, opening.id, words LIMIT ${limit}`;
}
