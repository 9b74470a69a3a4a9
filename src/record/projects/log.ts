import type { PrismaClient } from '../../database/generated/client.ts';
import { namesOf, type NamedInPayload } from './log-names.ts';

const PAGE = 100;

export interface LogLine {
  readonly seq: number;
  readonly at: Date;
  readonly actorName: string;
  readonly type: string;
  readonly payload: unknown;
  /**
   * The item, check, file or inspection that the line is about, where it was named before, and in a project of several
   * openings the opening; '' for neither.
   */
  readonly about: string;
  readonly hash: string;
}

/** The log backwards, a page at a time by sequence number, so that page 1,000 costs what page 1 costs. */
export async function readLog(
  prisma: PrismaClient,
  projectId: string,
  before: number | null,
): Promise<{ lines: LogLine[]; earlier: number | null }> {
  const rows = await prisma.event.findMany({
    where: { projectId, ...(before === null ? {} : { seq: { lt: before } }) },
    orderBy: { seq: 'desc' },
    take: PAGE + 1,
  });
  const read = rows
    .slice(0, PAGE)
    .map((row) => ({ ...row, payload: JSON.parse(row.payload) as NamedInPayload }));
  const nameOf = await namesOf(
    prisma,
    projectId,
    read.map(({ payload }) => payload),
  );
  const lines = read.map(({ seq, at, actorName, type, payload, hash }) => {
    const names = nameOf(payload);
    // Its own words name what is made by it.
    const about = type === 'item.created' || type === 'visit.opened' ? '' : names.about;
    const opening = type === 'opening.created' ? '' : names.opening;
    return {
      seq,
      at,
      actorName,
      type,
      payload,
      about: [about, opening].filter((name) => name !== '').join(', '),
      hash,
    };
  });
  return { lines, earlier: rows.length > PAGE ? (lines.at(-1)?.seq ?? null) : null };
}
