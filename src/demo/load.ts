import type { Actor } from '../actor.ts';
import { isUniqueViolation } from '../database/retry.ts';
import { serviceTitle } from '../engineering/services/index.ts';
import { hashPassword } from '../people/accounts/passwords.ts';
import { acceptInvitation, invite } from '../people/invitations/service.ts';
import { createItem } from '../record/items/create.ts';
import { createOpening } from '../record/openings/service.ts';
import { createProject } from '../record/projects/service.ts';
import { submitVersions } from '../record/submissions/service.ts';
import type { RecordDeps } from '../record/use-case.ts';
import { demoBeam, demoCriteria, demoFootings, demoRows, demoSupports, demoSurvey } from './cinder-ferry.ts';
import { demoServices } from './cinder-ferry-services.ts';
import { demoPassword, demoSignIns } from './people.ts';

async function addPerson(
  prisma: RecordDeps['prisma'],
  data: { readonly name: string; readonly email: string; readonly passwordHash: string },
): Promise<string | null> {
  try {
    return (await prisma.person.create({ data, select: { id: true } })).id;
  } catch (error) {
    if (isUniqueViolation(error)) return null;
    throw error;
  }
}

/** Loads the demo once; an installation that has its people has it. Everything goes through the use cases. */
export async function loadDemo(deps: RecordDeps): Promise<void> {
  const { prisma } = deps;
  const emails = demoSignIns.map((one) => one.email);
  if ((await prisma.person.count({ where: { email: { in: [...emails] } } })) > 0) return;
  const passwordHash = await hashPassword(demoPassword);
  const people = new Map<string, { personId: string; name: string }>();
  for (const { role, name, email } of demoSignIns) {
    const id = await addPerson(prisma, { name, email, passwordHash });
    // Another process that started at the same moment is loading it.
    if (id === null) return;
    people.set(role, { personId: id, name });
  }
  const contractor = people.get('contractor');
  if (contractor === undefined) throw new Error('The demo has no contractor.');
  const { projectId } = await createProject(deps, contractor, {
    name: 'Cinder Ferry, bed-sitting room',
    address: '12 Slipway Row, Cinder Ferry',
    jurisdiction: 'Town of Cinder Ferry (invented)',
    permitNumber: 'BP-70-0418',
  });
  const actor: Actor = { ...contractor, role: 'contractor', projectId };
  for (const { role, name } of demoSignIns) {
    const person = people.get(role);
    if (role === 'contractor' || person === undefined) continue;
    const { token } = await invite(deps, actor, { role, label: name });
    await acceptInvitation(deps, person, token);
  }
  await createItem(deps, actor, {
    openingId: null,
    kind: 'criteria',
    key: 'criteria',
    title: 'Design criteria',
    content: demoCriteria,
  });
  const { openingId } = await createOpening(deps, actor, { name: 'Den to box room' });
  const items = [
    { kind: 'survey', key: 'survey', title: 'Survey', content: demoSurvey },
    ...demoServices.map((content, index) => ({
      kind: 'service' as const,
      key: `S${index + 1}`,
      title: serviceTitle(content),
      content,
    })),
    { kind: 'beam', key: 'beam', title: 'Beam', content: demoBeam },
    ...demoSupports.map((content) => ({
      kind: 'support' as const,
      key: content.end,
      title: content.end === 'left' ? 'Left support' : 'Right support',
      content,
    })),
    ...demoFootings.map((content) => ({
      kind: 'footing' as const,
      key: content.end,
      title: content.end === 'left' ? 'Left footing' : 'Right footing',
      content,
    })),
    ...demoRows.map(({ key, title, content }) => ({ kind: 'fastening' as const, key, title, content })),
  ] as const;
  for (const item of items) await createItem(deps, actor, { openingId, ...item });
  await submitVersions(deps, actor, { openingId, note: 'First proposal. Live load as for sleeping rooms.' });
}
