import type { PrismaClient } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import { readTimeCursor, writeTimeCursor } from '../time-cursor.ts';
import type { Viewer } from './service.ts';

/** A project as the first page of a member names it. */
export interface ProjectLine {
  readonly projectId: string;
  readonly name: string;
  readonly address: string;
  readonly role: Role;
}

export interface ProjectsPage {
  readonly projects: readonly ProjectLine[];
  /** Hand in as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

const PAGE = 50;

/**
 * The projects in which a person is a member now, last joined first, a page at a time.
 *
 * @throws NotFound for a cursor that this program did not write.
 */
export async function projectsOf(
  prisma: Pick<PrismaClient, 'membership'>,
  viewer: Viewer,
  after: string | undefined,
): Promise<ProjectsPage> {
  const cursor = after === undefined ? null : readTimeCursor(after);
  const rows = await prisma.membership.findMany({
    where: {
      personId: viewer.personId,
      revokedAt: null,
      ...(cursor === null
        ? {}
        : { OR: [{ createdAt: { lt: cursor.at } }, { createdAt: cursor.at, id: { lt: cursor.id } }] }),
    },
    select: {
      id: true,
      createdAt: true,
      projectId: true,
      role: true,
      project: { select: { name: true, address: true } },
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: PAGE + 1,
  });
  const shown = rows.slice(0, PAGE);
  const last = shown.at(-1);
  return {
    projects: shown.map(({ projectId, role, project }) => ({ projectId, role, ...project })),
    next: rows.length > PAGE && last ? writeTimeCursor(last.createdAt, last.id) : null,
  };
}
