import { randomUUID } from 'node:crypto';
import type { Actor } from '../../../src/actor.ts';
import type { PrismaClient } from '../../../src/database/generated/client.ts';
import type { Role } from '../../../src/people/roles.ts';
import { createItem } from '../../../src/record/items/create.ts';
import type { ItemKind } from '../../../src/record/kinds/definition.ts';
import { markVersion } from '../../../src/record/marks/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import type { RecordDeps } from '../../../src/record/use-case.ts';
import { readItem } from '../../../src/record/versions/read.ts';
import { testKinds } from './kinds.ts';

/** A clock that tests move by hand; every reading is a millisecond later than the one before. */
export function testClock(start = '2026-03-02T08:00:00.000Z') {
  let now = new Date(start).getTime();
  return {
    clock: () => new Date((now += 1)),
    advance: (ms: number) => {
      now += ms;
    },
  };
}

export async function addPerson(prisma: PrismaClient, name: string): Promise<string> {
  const person = await prisma.person.create({
    data: { name, email: `${randomUUID()}@example.test`, passwordHash: 'unused' },
  });
  return person.id;
}

/** Makes a person a member. */
export async function addMember(
  prisma: PrismaClient,
  projectId: string,
  role: Role,
  name: string,
): Promise<Actor> {
  const personId = await addPerson(prisma, name);
  await prisma.membership.create({ data: { projectId, personId, role } });
  return { personId, name, role, projectId };
}

export interface Scene {
  readonly deps: RecordDeps;
  readonly projectId: string;
  readonly openingId: string;
  readonly contractor: Actor;
  readonly engineer: Actor;
  readonly secondEngineer: Actor;
  readonly inspector: Actor;
  readonly owner: Actor;
  advance(ms: number): void;
}

/** A project with one opening and its people, and nothing in it. */
export async function openScene(prisma: PrismaClient, extra: Partial<RecordDeps> = {}): Promise<Scene> {
  const { clock, advance } = testClock();
  const createdById = await addPerson(prisma, 'R. T.');
  const project = await prisma.project.create({
    data: { name: 'Cinder Ferry', address: '14 Kiln Lane', jurisdiction: 'River County', createdById },
  });
  const projectId = project.id;
  const opening = await prisma.opening.create({ data: { projectId, ordinal: 1, name: 'Den wall' } });
  return {
    deps: { prisma, clock, kinds: testKinds(), ...extra },
    projectId,
    openingId: opening.id,
    contractor: await addMember(prisma, projectId, 'contractor', 'R. T.'),
    engineer: await addMember(prisma, projectId, 'engineer', 'K. O.'),
    secondEngineer: await addMember(prisma, projectId, 'engineer', 'M. B.'),
    inspector: await addMember(prisma, projectId, 'inspector', 'D. V.'),
    owner: await addMember(prisma, projectId, 'owner', 'S. L.'),
    advance,
  };
}

/** Adds an item with a first version; answers its id. */
export async function enter(
  scene: Scene,
  kind: ItemKind,
  key: string,
  content: unknown,
  actor = scene.contractor,
): Promise<string> {
  const openingId = kind === 'criteria' ? null : scene.openingId;
  const { item } = await createItem(scene.deps, actor, {
    openingId,
    kind,
    key,
    title: `${kind} ${key}`,
    content,
  });
  return item.itemId;
}

export interface Ids {
  readonly criteria: string;
  readonly survey: string;
  readonly beam: string;
  readonly support: string;
  readonly fastening: string;
}

/** The usual case: 40 psf over a 12 ft opening. M = 400·12²/8 = 7,200 lb-ft; R = 2,400 lb. */
export async function enterHouse(scene: Scene): Promise<Ids> {
  return {
    criteria: await enter(scene, 'criteria', 'criteria', { livePsf: 40 }),
    survey: await enter(scene, 'survey', 'survey', { spanIn: 144 }),
    beam: await enter(scene, 'beam', 'beam', { plies: 3, depthIn: 9.5 }),
    support: await enter(scene, 'support', 'left', { jacks: 2 }),
    fastening: await enter(scene, 'fastening', 'N1', { rows: 2, spacingIn: 12 }),
  };
}

export async function submit(scene: Scene): Promise<void> {
  await submitVersions(scene.deps, scene.contractor, { openingId: scene.openingId });
}

/** Says a word on an item's newest version as it stands. */
export async function mark(
  scene: Scene,
  itemId: string,
  word: 'approved' | 'returned' | 'withdrawn' = 'approved',
  reason = '',
  engineer = scene.engineer,
) {
  const { newest } = await readItem(scene.deps, engineer, { itemId });
  const { versionId, hash, marks } = newest!;
  return markVersion(scene.deps, engineer, {
    versionId,
    hash,
    expectedMarkNumber: marks.length,
    word,
    reason,
  });
}
