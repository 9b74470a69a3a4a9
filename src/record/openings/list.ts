import type { PrismaClient } from '../../database/generated/client.ts';

/** An opening as its project's page names it, with the set in force. */
export interface OpeningLine {
  readonly id: string;
  readonly ordinal: number;
  readonly name: string;
  /** Null where no set was issued. */
  readonly setNumber: number | null;
  readonly setIssuedAt: Date | null;
}

export interface OpeningsPage {
  readonly openings: readonly OpeningLine[];
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: number | null;
}

const PAGE = 30;

/** The openings of a project by their number, a page at a time. One query, which reads no set's content. */
export async function openingsOfProject(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  projectId: string,
  after: number | null,
): Promise<OpeningsPage> {
  const rows = await prisma.$queryRaw<OpeningLine[]>`
    SELECT opening.id, opening.ordinal, opening.name, latest.number AS "setNumber",
           latest.issued_at AS "setIssuedAt"
    FROM opening
    LEFT JOIN LATERAL (
      SELECT number, issued_at FROM approved_set WHERE opening_id = opening.id ORDER BY number DESC LIMIT 1
    ) latest ON true
    WHERE opening.project_id = ${projectId}::uuid AND opening.ordinal > ${after ?? 0}::int
    ORDER BY opening.ordinal LIMIT ${PAGE + 1}`;
  const openings = rows.slice(0, PAGE);
  return { openings, next: rows.length > PAGE ? (openings.at(-1)?.ordinal ?? null) : null };
}
