import type { PrismaClient } from '../../database/generated/client.ts';

/** The zone of a project's house. A frozen set does not hold it: what is approved does not depend on a clock. */
export async function zoneOfHouse(
  reader: { readonly project: Pick<PrismaClient['project'], 'findUniqueOrThrow'> },
  projectId: string,
): Promise<string> {
  const { timeZone } = await reader.project.findUniqueOrThrow({
    where: { id: projectId },
    select: { timeZone: true },
  });
  return timeZone;
}
