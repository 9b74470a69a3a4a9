import { createHash, randomBytes } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import { inTransaction } from '../../database/retry.ts';
import { NotFound, Refused } from '../../problems.ts';
import { appendEvent, lockProject, type Transaction } from '../../record/events/append.ts';
import { useCase, type RecordDeps } from '../../record/use-case.ts';
import type { Role } from '../roles.ts';

const GOOD_FOR_DAYS = 14;
const MS_PER_DAY = 86_400_000;

function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/**
 * Makes a one-time link. The token is handed out once and kept only as a hash. Where a letter takes it, the letter gets
 * a token of its own, made when it is sent (`tokenForInvitation`), and the one from here is then good for nothing.
 */
export async function invite(
  deps: RecordDeps,
  actor: Actor,
  input: {
    readonly role: Role;
    readonly label: string;
    /** Where a letter with the link goes; without it the link is handed out here. */
    readonly email?: string;
  },
): Promise<{ token: string; expiresAt: Date }> {
  const token = randomBytes(24).toString('base64url');
  return useCase(deps, actor, 'people.invite', async ({ tx, at, append }) => {
    const expiresAt = new Date(at.getTime() + GOOD_FOR_DAYS * MS_PER_DAY);
    const { role, label } = input;
    const { id } = await tx.invitation.create({
      data: {
        projectId: actor.projectId,
        role,
        label,
        tokenHash: hashToken(token),
        createdById: actor.personId,
        createdAt: at,
        expiresAt,
      },
      select: { id: true },
    });
    if (input.email !== undefined) {
      const key = `invitation ${id}`;
      await tx.letter.create({
        data: { key, kind: 'invitation', subjectId: id, toAddress: input.email, createdAt: at },
      });
    }
    await append('invitation.made', { invitationId: id, role, label });
    return { token, expiresAt };
  });
}

export async function withdrawInvitation(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly invitationId: string },
): Promise<void> {
  await useCase(deps, actor, 'people.invite', async ({ tx, at, append }) => {
    const { count } = await tx.invitation.updateMany({
      where: { id: input.invitationId, projectId: actor.projectId, usedAt: null, withdrawnAt: null },
      data: { withdrawnAt: at },
    });
    if (count === 0)
      throw new Refused(
        'That invitation was used or withdrawn already. Make another one if somebody still needs it.',
      );
    await append('invitation.withdrawn', { invitationId: input.invitationId });
  });
}

/** The link's token for the letter that is about to be sent; null where the invitation is over. */
export async function tokenForInvitation(
  { prisma, clock }: Pick<RecordDeps, 'prisma' | 'clock'>,
  invitationId: string,
): Promise<
  (Omit<OpenInvitation, 'projectId'> & { token: string; expiresAt: Date; timeZone: string }) | null
> {
  const token = randomBytes(24).toString('base64url');
  const { count } = await prisma.invitation.updateMany({
    where: { id: invitationId, usedAt: null, withdrawnAt: null, expiresAt: { gt: clock() } },
    data: { tokenHash: hashToken(token) },
  });
  if (count === 0) return null;
  const row = await prisma.invitation.findUniqueOrThrow({
    where: { id: invitationId },
    include: { project: { select: { name: true, timeZone: true } }, createdBy: { select: { name: true } } },
  });
  return {
    invitationId,
    token,
    expiresAt: row.expiresAt,
    timeZone: row.project.timeZone,
    role: row.role,
    projectName: row.project.name,
    invitedBy: row.createdBy.name,
  };
}

export interface OpenInvitation {
  readonly invitationId: string;
  readonly projectId: string;
  readonly projectName: string;
  readonly role: Role;
  readonly invitedBy: string;
}

/** What an invitation link offers. Used, withdrawn, expired and never made look the same. */
export async function readInvitation(
  deps: Pick<RecordDeps, 'prisma' | 'clock'>,
  token: string,
): Promise<OpenInvitation> {
  return findOpen(deps.prisma, token, deps.clock());
}

async function findOpen(
  tx: Pick<Transaction, 'invitation'>,
  token: string,
  now: Date,
): Promise<OpenInvitation> {
  const row = await tx.invitation.findUnique({
    where: { tokenHash: hashToken(token) },
    include: {
      project: { select: { name: true } },
      createdBy: { select: { name: true } },
    },
  });
  if (row?.usedAt !== null || row.withdrawnAt !== null || row.expiresAt <= now) {
    throw new NotFound('That invitation');
  }
  return {
    invitationId: row.id,
    projectId: row.projectId,
    projectName: row.project.name,
    role: row.role,
    invitedBy: row.createdBy.name,
  };
}

/** Joins the project in the role the link gives. A link works once; a second role in one project is refused. */
export async function acceptInvitation(
  deps: Pick<RecordDeps, 'prisma' | 'clock' | 'listeners'>,
  person: { readonly personId: string; readonly name: string },
  token: string,
): Promise<{ projectId: string }> {
  const { projectId } = await readInvitation(deps, token);
  return inTransaction(deps.prisma, async (tx) => {
    await lockProject(tx, projectId);
    const at = deps.clock();
    const { invitationId, role } = await findOpen(tx, token, at);
    const { personId, name } = person;
    const present = await tx.membership.findFirst({ where: { projectId, personId, revokedAt: null } });
    if (present !== null) {
      throw new Refused(
        `You are in this project already, as its ${present.role}. The link is still good for somebody else.`,
      );
    }
    await tx.invitation.update({ where: { id: invitationId }, data: { usedAt: at, usedById: personId } });
    await tx.membership.create({ data: { projectId, personId, role, createdAt: at } });
    const joined = await appendEvent(tx, {
      projectId,
      at,
      actorId: personId,
      actorName: name,
      type: 'member.joined',
      payload: { personId, name, role },
    });
    for (const listener of deps.listeners ?? []) await listener(tx, joined);
    return { projectId };
  });
}
