import type { PrismaClient } from '../../database/generated/client.ts';

const PAGE = 100;

export interface LogLine {
  readonly seq: number;
  readonly at: Date;
  readonly actorName: string;
  readonly type: string;
  readonly payload: unknown;
  /** The item that the line is about, where it is about one that was named before. */
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
  const read = rows.slice(0, PAGE).map(({ seq, at, actorName, type, payload, hash }) => ({
    seq,
    at,
    actorName,
    type,
    payload: JSON.parse(payload) as { readonly itemId?: unknown },
    hash,
  }));
  const titles = await titlesOf(
    prisma,
    projectId,
    read.flatMap(({ type, payload: { itemId } }) =>
      typeof itemId === 'string' && type !== 'item.created' ? [itemId] : [],
    ),
  );
  const lines = read.map((line) => ({
    ...line,
    about: line.type === 'item.created' ? '' : (titles.get(String(line.payload.itemId)) ?? ''),
  }));
  return { lines, earlier: rows.length > PAGE ? (lines.at(-1)?.seq ?? null) : null };
}

async function titlesOf(
  prisma: PrismaClient,
  projectId: string,
  ids: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const items = await prisma.item.findMany({
    where: { projectId, id: { in: [...new Set(ids)] } },
    select: { id: true, title: true },
  });
  return new Map(items.map(({ id, title }) => [id, title]));
}
