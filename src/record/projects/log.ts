import type { PrismaClient } from '../../database/generated/client.ts';

const PAGE = 100;

export interface LogLine {
  readonly seq: number;
  readonly at: Date;
  readonly actorName: string;
  readonly type: string;
  readonly payload: unknown;
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
  const lines = rows.slice(0, PAGE).map(({ seq, at, actorName, type, payload, hash }) => ({
    seq,
    at,
    actorName,
    type,
    payload: JSON.parse(payload) as unknown,
    hash,
  }));
  return { lines, earlier: rows.length > PAGE ? (lines.at(-1)?.seq ?? null) : null };
}
