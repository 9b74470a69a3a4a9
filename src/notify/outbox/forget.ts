import type { PrismaClient } from '../../database/generated/client.ts';

/** The outbox is no record: the log is. What went out, or was dropped, is kept this long for the operator's questions. */
const KEPT_DAYS = 90;
const MS_PER_DAY = 86_400_000;

export async function forgetOld(prisma: PrismaClient, now: Date): Promise<void> {
  const before = new Date(now.getTime() - KEPT_DAYS * MS_PER_DAY);
  await prisma.news.deleteMany({
    where: { createdAt: { lt: before }, OR: [{ droppedAt: { lt: before } }, { letterId: { not: null } }] },
  });
  await prisma.letter.deleteMany({ where: { settledAt: { lt: before }, news: { none: {} } } });
  await prisma.webhookCall.deleteMany({ where: { settledAt: { lt: before } } });
}
