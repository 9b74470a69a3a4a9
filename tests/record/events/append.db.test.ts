import { afterAll, beforeAll, expect, test } from 'vitest';
import { NotAllowed, NotFound } from '../../../src/problems.ts';
import { appendEvent, lockProject } from '../../../src/record/events/append.ts';
import { GENESIS_HASH } from '../../../src/record/hash.ts';
import { useCase } from '../../../src/record/use-case.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { openScene } from '../support/scene.ts';

let database: FreshDatabase;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());

test('each event names the hash of the one before it; the first names none', async () => {
  const scene = await openScene(database.prisma);
  const at = new Date('2026-03-02T08:00:00Z');
  const line = { projectId: scene.projectId, at, actorId: null, actorName: 'Lintelbook' };
  const payload = { openingId: scene.openingId, ordinal: 1, name: 'Den wall' };
  const events = await database.prisma.$transaction(async (tx) => [
    await appendEvent(tx, { ...line, type: 'opening.created', payload }),
    await appendEvent(tx, { ...line, type: 'opening.created', payload }),
  ]);
  expect(events.map((event) => [event.seq, event.prevHash])).toEqual([
    [1, GENESIS_HASH],
    [2, events[0]?.hash],
  ]);
  expect(events[0]?.hash).not.toBe(events[1]?.hash);
});

test('a clock that was set back does not make the log run backwards', async () => {
  const scene = await openScene(database.prisma);
  const times: Date[] = [];
  for (const now of ['2026-03-02T10:00:00Z', '2026-03-02T09:00:00Z', '2026-03-02T11:00:00Z']) {
    const deps = { ...scene.deps, clock: () => new Date(now) };
    await useCase(deps, scene.contractor, 'opening.create', async ({ at, append }) => {
      const event = await append('opening.created', { openingId: scene.openingId, ordinal: 1, name: now });
      expect(event.at).toEqual(at);
      times.push(event.at);
    });
  }
  expect(times.map((time) => time.getUTCHours())).toEqual([10, 10, 11]);
});

test('what fails leaves neither change nor event', async () => {
  const scene = await openScene(database.prisma);
  const failing = useCase(scene.deps, scene.contractor, 'opening.create', async ({ append }) => {
    await append('opening.created', { openingId: scene.openingId, ordinal: 1, name: 'x' });
    throw new Error('after the event');
  });
  await expect(failing).rejects.toThrow('after the event');
  expect(await database.prisma.event.count({ where: { projectId: scene.projectId } })).toBe(0);
});

test('a project that is not there can’t be locked', async () => {
  const unknown = '00000000-0000-0000-0000-000000000000';
  await expect(database.prisma.$transaction((tx) => lockProject(tx, unknown))).rejects.toBeInstanceOf(
    NotFound,
  );
});

test('the role is the one of this moment, not the one of the page', async () => {
  const scene = await openScene(database.prisma);
  const { personId, projectId } = scene.engineer;
  await database.prisma.membership.updateMany({ where: { personId, projectId }, data: { role: 'owner' } });
  const act = useCase(scene.deps, scene.engineer, 'mark.create', async () => undefined);
  await expect(act).rejects.toBeInstanceOf(NotAllowed);
});

test('a person who left the installation acts no more', async () => {
  const scene = await openScene(database.prisma);
  await database.prisma.person.update({
    where: { id: scene.engineer.personId },
    data: { closedAt: new Date(), email: null },
  });
  const act = useCase(scene.deps, scene.engineer, 'mark.create', async () => undefined);
  await expect(act).rejects.toBeInstanceOf(NotFound);
});
