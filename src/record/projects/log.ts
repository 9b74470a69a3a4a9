import type { PrismaClient } from '../../database/generated/client.ts';

const PAGE = 100;

export interface LogLine {
  readonly seq: number;
  readonly at: Date;
  readonly actorName: string;
  readonly type: string;
  readonly payload: unknown;
  /** The item, check or file that the line is about, where it is about one that was named before. */
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
    payload: JSON.parse(payload) as Named,
    hash,
  }));
  const ids = (of: keyof Named) => [
    ...new Set(
      read.flatMap(({ type, payload: { [of]: id } }) =>
        typeof id === 'string' && type !== 'item.created' ? [id] : [],
      ),
    ),
  ];
  const titles = await titlesOf(prisma, projectId, {
    items: ids('itemId'),
    checks: ids('checkId'),
    files: ids('attachmentId'),
  });
  const lines = read.map((line) => {
    const { itemId, checkId, attachmentId } = line.payload;
    const id = [itemId, checkId, attachmentId].find((one) => typeof one === 'string' && titles.has(one));
    return { ...line, about: line.type === 'item.created' ? '' : (titles.get(String(id)) ?? '') };
  });
  return { lines, earlier: rows.length > PAGE ? (lines.at(-1)?.seq ?? null) : null };
}

/** What a payload may name. */
interface Named {
  readonly itemId?: unknown;
  readonly checkId?: unknown;
  readonly attachmentId?: unknown;
}

async function titlesOf(
  prisma: PrismaClient,
  projectId: string,
  ids: { readonly items: string[]; readonly checks: string[]; readonly files: string[] },
): Promise<ReadonlyMap<string, string>> {
  const [items, checks, files] = await Promise.all([
    prisma.item.findMany({
      where: { projectId, id: { in: ids.items } },
      select: { id: true, title: true },
    }),
    prisma.check.findMany({
      where: { projectId, id: { in: ids.checks } },
      select: { id: true, title: true },
    }),
    prisma.attachment.findMany({
      where: { projectId, id: { in: ids.files } },
      select: { id: true, caption: true, originalName: true },
    }),
  ]);
  return new Map([
    ...[...items, ...checks].map(({ id, title }): [string, string] => [id, title]),
    ...files.map(({ id, caption, originalName }): [string, string] => [id, caption || originalName]),
  ]);
}
