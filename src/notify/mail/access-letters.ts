import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { tokenForInvitation } from '../../people/invitations/service.ts';
import { tokenForLetter } from '../../people/resets/service.ts';
import { minuteText } from '../../house-time.ts';
import type { Words } from './message.ts';
import type { LetterRow } from './send.ts';
import { bodies } from './templates.ts';

/**
 * Letters that let somebody in. Their links hold a secret, which is made here, right before the letter leaves, and lies
 * nowhere but in the letter. They were asked for, so that no choice of mail holds them back and nothing stops them.
 */
export interface AccessDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  readonly publicUrl: string;
}

export async function newPasswordLetter(deps: AccessDeps, row: LetterRow): Promise<Words | null> {
  if (row.personId === null || row.subjectId === null) return null;
  const person = await deps.prisma.person.findUnique({
    where: { id: row.personId },
    select: { name: true, email: true, closedAt: true },
  });
  if (person?.closedAt !== null || person.email === null) return null;
  const token = await tokenForLetter(deps, row.subjectId);
  if (token === null) return null;
  const url = `${deps.publicUrl}/new-password/${token}`;
  return {
    to: { name: person.name, address: person.email },
    subject: 'A new password for Lintelbook',
    ...bodies('new-password', { name: person.name, url }),
    stopUrl: null,
  };
}

export async function invitationLetter(deps: AccessDeps, row: LetterRow): Promise<Words | null> {
  if (row.subjectId === null) return null;
  const offer = await tokenForInvitation(deps, row.subjectId);
  if (offer === null) return null;
  const url = `${deps.publicUrl}/invitations/${offer.token}`;
  return {
    to: { name: '', address: row.toAddress },
    subject: `${offer.projectName}: ${offer.invitedBy} invites you as ${offer.role}`,
    ...bodies('invitation', { ...offer, until: minuteText(offer.expiresAt, offer.timeZone), url }),
    stopUrl: null,
  };
}
