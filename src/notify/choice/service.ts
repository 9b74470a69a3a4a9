import type { MailChoice, PrismaClient } from '../../database/generated/client.ts';

export const mailChoices = ['at_once', 'daily', 'none'] as const satisfies readonly MailChoice[];

/** What waits in the outbox goes by the choice that holds when it is gathered; nothing else is to be done here. */
export async function chooseMail(
  prisma: PrismaClient,
  personId: string,
  mailChoice: MailChoice,
): Promise<void> {
  await prisma.person.updateMany({ where: { id: personId, closedAt: null }, data: { mailChoice } });
}

export async function readMailChoice(prisma: PrismaClient, personId: string): Promise<MailChoice> {
  const person = await prisma.person.findUniqueOrThrow({
    where: { id: personId },
    select: { mailChoice: true },
  });
  return person.mailChoice;
}
