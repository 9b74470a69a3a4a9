import type { Actor } from '../../../src/actor.ts';
import { writeTimeCursor } from '../../../src/record/time-cursor.ts';
import { demoSignIns } from '../../../src/demo/people.ts';
import { stopToken } from '../../../src/notify/choice/stop-token.ts';
import { invite } from '../../../src/people/invitations/service.ts';
import { requestReset, tokenForLetter } from '../../../src/people/resets/service.ts';
import { beginCodes } from '../../../src/people/second-factor/factor.ts';
import type { Role } from '../../../src/people/roles.ts';
import { makeFamilyLink } from '../../../src/site/owner/family-links.ts';
import { found, phone } from '../../inspection/offline/phone.ts';
import { testAppSecret, type TestApp } from '../app.ts';
import { signIn, type Walker } from './crawl.ts';

/**
 * Pages of the demo that no link of another page leads to: those whose address is a secret in a letter, those that
 * only a longer list or a late phone would lead to. Makes what they need and says who opens them.
 */
export async function unlinkedPages(
  test: TestApp,
  base: string,
): Promise<Readonly<Partial<Record<Walker, readonly string[]>>>> {
  const { deps } = test;
  const { prisma } = deps;
  const { id: projectId } = await prisma.project.findFirstOrThrow({ select: { id: true } });
  const project = `/projects/${projectId}`;
  const actor = (role: Role) => actorOf(test, projectId, role);
  const contractor = await actor('contractor');

  const { token: invitation } = await invite(deps, contractor, { role: 'engineer', label: 'A second one' });
  const { email } = demoSignIns[0];
  await requestReset(deps, email);
  const { id: resetId } = await prisma.passwordReset.findFirstOrThrow({ select: { id: true } });
  const newPassword = await tokenForLetter(deps, resetId);
  const stop = stopToken(testAppSecret, contractor.personId);

  const opening = await prisma.opening.findFirstOrThrow({
    where: { projectId },
    orderBy: { createdAt: 'asc' },
    select: { id: true },
  });
  const owner = await actor('owner');
  const family = await makeFamilyLink(deps, owner, { openingId: opening.id, label: 'The neighbours' });
  const late = await lateFinding(test, base);
  // Its page shows a picture then, until a first code confirms it.
  await beginCodes({ ...deps, secret: testAppSecret }, owner.personId);

  const list = `${project}/openings/${opening.id}/items/fastening`;
  const further = encodeURIComponent(writeTimeCursor(new Date(0), opening.id));
  const waiting = (role: Role, section: string) =>
    `/waiting?role=${role}&section=${encodeURIComponent(section)}&after=${further}`;
  return {
    'signed out': [
      `/invitations/${invitation}`,
      `/new-password/${newPassword ?? ''}`,
      `/mail/stop/${stop}`,
      `/shared/${family.token}`,
      '/components',
      // Leads back to the password: the page itself is in tests/browser/first-minutes.browser.test.ts.
      '/sign-in/code',
    ],
    contractor: [list, waiting('contractor', 'to submit'), late, `/invitations/${invitation}`],
    engineer: [list, waiting('engineer', 'to mark'), late],
    inspector: [late],
  };
}

async function actorOf({ deps }: TestApp, projectId: string, role: Role): Promise<Actor> {
  const { person } = await deps.prisma.membership.findFirstOrThrow({
    where: { projectId, role },
    include: { person: true },
  });
  return { personId: person.id, name: person.name, role, projectId };
}

/** A phone that had no network until the visit was closed; the address of the page that shows what it brings. */
async function lateFinding(test: TestApp, base: string): Promise<string> {
  const { visit, visitId } = await test.deps.prisma.visitClosing.findFirstOrThrow({
    orderBy: { closedAt: 'desc' },
    include: { visit: true },
  });
  const { checkId } = await test.deps.prisma.finding.findFirstOrThrow({ where: { visitId } });
  const inspector = await signIn(base, 'inspector');
  const inProject = `/projects/${visit.projectId}`;
  const device = phone(test, { cookies: () => inspector.cookies() }, inProject);
  const page = `${inProject}/visits/${visitId}`;
  await device.ask(page);
  const sent = await device.send(page, [
    found(checkId, { result: 'correction', reason: 'The shim under the left bearing is loose.' }),
  ]);
  if (sent.statusCode !== 200)
    throw new Error(`the late finding was answered ${sent.statusCode}: ${sent.body}`);
  return `${inProject}/openings/${visit.openingId}/late-findings`;
}
