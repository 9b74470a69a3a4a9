import type { PrismaClient } from '../../database/generated/client.ts';
import { idOr404 } from '../../people/routes.ts';
import { NotFound } from '../../problems.ts';

/** The opening that an address names. @throws NotFound for none, and for one of another project. */
export async function findOpening(
  prisma: Pick<PrismaClient, 'opening'>,
  projectId: string,
  openingId: string,
) {
  const opening = await prisma.opening.findFirst({ where: { id: idOr404(openingId), projectId } });
  if (opening === null) throw new NotFound('That opening');
  return opening;
}
