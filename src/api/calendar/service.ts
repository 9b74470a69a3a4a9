import { createHash, randomBytes } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import { keyOfVisit, visitName } from '../../inspection/plan/plan.ts';
import { planOf } from '../../inspection/plan/store.ts';
import { roleMay } from '../../people/permissions.ts';
import { roles } from '../../people/roles.ts';
import { NotFound } from '../../problems.ts';
import type { CalendarVisit } from './write.ts';

export interface CalendarDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

const hashOf = (token: string) => createHash('sha256').update(token).digest('hex');
const FORM = /^[\w-]{43}$/;
const MS_PER_DAY = 86_400_000;
/** A calendar shows what was lately; the record keeps the rest. */
const DAYS_SHOWN = 400;
const MOST_VISITS = 1000;

/** Makes a person's address, 256 random bits, and ends the one before. It is in the answer and nowhere else. */
export async function makeCalendarAddress(
  { prisma, clock }: CalendarDeps,
  personId: string,
): Promise<{ readonly token: string }> {
  const token = randomBytes(32).toString('base64url');
  const made = { tokenHash: hashOf(token), createdAt: clock() };
  await prisma.calendarAddress.upsert({
    where: { personId },
    create: { personId, ...made },
    update: made,
  });
  return { token };
}

export async function endCalendarAddress({ prisma }: CalendarDeps, personId: string): Promise<void> {
  await prisma.calendarAddress.deleteMany({ where: { personId } });
}

export async function calendarAddressOf(
  { prisma }: CalendarDeps,
  personId: string,
): Promise<{ readonly createdAt: Date } | null> {
  return prisma.calendarAddress.findUnique({ where: { personId }, select: { createdAt: true } });
}

/**
 * The visits behind an address: those of the projects in which its person may read visits at this moment.
 *
 * @throws NotFound where the address was never made, is ended, or its person's account is closed
 */
export async function visitsBehind(
  { prisma, clock }: CalendarDeps,
  token: string,
): Promise<readonly CalendarVisit[]> {
  const address = FORM.test(token)
    ? await prisma.calendarAddress.findUnique({
        where: { tokenHash: hashOf(token) },
        select: { personId: true, person: { select: { closedAt: true } } },
      })
    : null;
  if (address?.person.closedAt !== null) throw new NotFound();
  const memberships = await prisma.membership.findMany({
    where: {
      personId: address.personId,
      revokedAt: null,
      role: { in: roles.filter((role) => roleMay(role, 'visit.read')) },
    },
    select: { projectId: true, project: { select: { name: true, address: true } } },
  });
  const projects = new Map(memberships.map(({ projectId, project }) => [projectId, project]));
  const visits = await prisma.visit.findMany({
    where: {
      projectId: { in: [...projects.keys()] },
      openedAt: { gte: new Date(clock().getTime() - DAYS_SHOWN * MS_PER_DAY) },
    },
    orderBy: [{ openedAt: 'desc' }, { id: 'asc' }],
    take: MOST_VISITS,
    include: { closing: true, opening: { select: { name: true } } },
  });
  const plans = new Map<string, Awaited<ReturnType<typeof planOf>>>();
  for (const { projectId, planNumber } of visits) {
    const key = `${projectId} ${planNumber}`;
    if (!plans.has(key)) plans.set(key, await planOf(prisma, projectId, planNumber));
  }
  return visits.flatMap((visit): CalendarVisit[] => {
    const project = projects.get(visit.projectId);
    const plan = plans.get(`${visit.projectId} ${visit.planNumber}`);
    if (project === undefined || plan === undefined) return [];
    return [
      {
        visitId: visit.id,
        projectId: visit.projectId,
        projectName: project.name,
        address: project.address,
        openingName: visit.opening.name,
        number: visit.number,
        name: visitName(plan, keyOfVisit(visit)),
        openedAt: visit.openedAt,
        closedAt: visit.closing?.closedAt ?? null,
        outcome: visit.closing?.outcome ?? null,
      },
    ];
  });
}
