import type { Opening, PrismaClient, Project } from '../../database/generated/client.ts';
import { idOr404 } from '../../people/routes.ts';
import { NotFound } from '../../problems.ts';
import { readTogether, type ProjectViewer } from '../read-together.ts';

export interface OpeningOfHouse extends Opening {
  readonly project: Pick<Project, 'jurisdiction' | 'timeZone'>;
}

/** The opening that an address names. @throws NotFound for none, and for one of another project. */
export async function findOpening(
  prisma: Pick<PrismaClient, 'opening'>,
  viewer: ProjectViewer,
  openingId: string,
): Promise<OpeningOfHouse> {
  const id = idOr404(openingId);
  return readTogether(viewer, ['opening', id], async () => {
    const opening = await prisma.opening.findFirst({
      where: { id, projectId: viewer.projectId },
      include: { project: { select: { jurisdiction: true, timeZone: true } } },
    });
    if (opening === null) throw new NotFound('That opening');
    return opening;
  });
}
