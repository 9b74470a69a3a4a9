import type { Actor } from '../actor.ts';
import type { Attachment, PrismaClient } from '../database/generated/client.ts';
import { idOr404 } from '../people/routes.ts';
import { NotFound } from '../problems.ts';
import { approvedDrawings } from './approved.ts';

/**
 * One attachment as this member may see it: of the member's project, and for an owner only what is shared and the
 * drawings of the newest sets.
 */
export async function findAttachment(
  prisma: PrismaClient,
  actor: Actor,
  attachmentId: string,
): Promise<Attachment> {
  const { projectId, role } = actor;
  const row = await prisma.attachment.findFirst({ where: { id: idOr404(attachmentId), projectId } });
  if (row === null) throw new NotFound('That file');
  if (role !== 'owner' || row.sharedWithOwner) return row;
  const drawings = await approvedDrawings(prisma, { projectId });
  if (!drawings.some((one) => one.attachmentId === row.id)) throw new NotFound('That file');
  return row;
}
