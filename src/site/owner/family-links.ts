import { createHash, randomBytes } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { Invalid, NotFound } from '../../problems.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { knownId } from '../../record/identifier.ts';
import { prose } from '../../record/prose.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';

const GOOD_FOR_DAYS = 60;
const MS_PER_DAY = 86_400_000;

const hashOf = (token: string) => createHash('sha256').update(token).digest('hex');

/** Makes a link that shows the owner's page. The token is handed out once and kept only as a hash. */
export async function makeFamilyLink(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string; readonly label: string },
): Promise<{ token: string; expiresAt: Date }> {
  const openingId = knownId(input.openingId, 'That opening');
  const label = prose(input.label, 'label');
  if (label === '') throw new Invalid({ label: 'Write for whom the link is.' });
  if (label.length > 80) throw new Invalid({ label: 'Use at most 80 characters.' });
  const token = randomBytes(24).toString('base64url');
  return useCase(deps, actor, 'family.manage', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    if (!(await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true } }))) {
      throw new NotFound('That opening');
    }
    const expiresAt = new Date(at.getTime() + GOOD_FOR_DAYS * MS_PER_DAY);
    const made = { projectId, openingId, label, createdById: personId, createdAt: at, expiresAt };
    const { id } = await tx.familyLink.create({
      data: { ...made, tokenHash: hashOf(token) },
      select: { id: true },
    });
    await append('family.linkMade', { familyLinkId: id, openingId, label });
    return { token, expiresAt };
  });
}

/** Takes a link back; it leads nowhere from this moment. */
export async function revokeFamilyLink(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly familyLinkId: string },
): Promise<void> {
  const id = knownId(input.familyLinkId, 'That link');
  await useCase(deps, actor, 'family.manage', async ({ tx, actor: present, at, append }) => {
    const { count } = await tx.familyLink.updateMany({
      where: { id, projectId: present.projectId, revokedAt: null },
      data: { revokedAt: at },
    });
    if (count === 0) throw new NotFound('That link');
    await append('family.linkRevoked', { familyLinkId: id });
  });
}

/**
 * What a link shows. Taken back, expired and never made look the same. It ends with the membership of the owner who made
 * it, too.
 */
export async function openFamilyLink(
  deps: Pick<RecordDeps, 'prisma' | 'clock'>,
  token: string,
): Promise<{ projectId: string; openingId: string }> {
  const row = await deps.prisma.familyLink.findUnique({ where: { tokenHash: hashOf(token) } });
  if (row?.revokedAt !== null || row.expiresAt <= deps.clock()) throw new NotFound('That page');
  const { projectId, openingId, createdById: personId } = row;
  const owner = await deps.prisma.membership.findFirst({
    where: { projectId, personId, role: 'owner', revokedAt: null },
    select: { id: true },
  });
  if (owner === null) throw new NotFound('That page');
  return { projectId, openingId };
}

/** The links that still open the page. */
export async function openLinks(prisma: PrismaClient, projectId: string, openingId: string, now: Date) {
  return prisma.familyLink.findMany({
    where: { projectId, openingId, revokedAt: null, expiresAt: { gt: now } },
    orderBy: { createdAt: 'asc' },
    select: { id: true, label: true, expiresAt: true },
  });
}
