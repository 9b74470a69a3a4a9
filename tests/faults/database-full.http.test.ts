import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { problemDetails } from '../../src/api/problems/details.ts';
import { buildHouse, type House } from '../attachments/support/house.ts';
import { testPhoto } from '../support/test-files.ts';

/** PostgreSQL has no room for more: SQLSTATE 53100, at a statement or at the commit, from the server itself. */
let house: House;
beforeAll(async () => {
  house = await buildHouse();
});
afterAll(() => house.test.close());
const run = (sql: string) => house.test.deps.prisma.$executeRawUnsafe(sql);
afterEach(() => run('DROP TRIGGER no_room ON event'));

async function fill(when: 'at a statement' | 'at the commit'): Promise<void> {
  await run(`CREATE OR REPLACE FUNCTION no_room() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    RAISE EXCEPTION 'could not extend file "base/16384/16501": No space left on device' USING ERRCODE = '53100';
  END $$`);
  await run(
    when === 'at a statement'
      ? 'CREATE TRIGGER no_room BEFORE INSERT ON event FOR EACH ROW EXECUTE FUNCTION no_room()'
      : 'CREATE CONSTRAINT TRIGGER no_room AFTER INSERT ON event DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION no_room()',
  );
}

async function rows(): Promise<number[]> {
  const { prisma } = house.test.deps;
  return Promise.all([
    prisma.event.count(),
    prisma.opening.count(),
    prisma.attachment.count(),
    prisma.attachmentLink.count(),
    prisma.news.count(),
  ]);
}

it.each(['at a statement', 'at the commit'] as const)(
  'says that there is no room, keeps nothing by half and goes on being read (%s)',
  async (when) => {
    const { contractor, projectId, openingId } = house;
    const before = await rows();
    await fill(when);
    const upload = await house.send(await testPhoto(when.length));
    const opening = await contractor.post(`/projects/${projectId}/openings`, { name: 'Two' });
    for (const answer of [upload, opening]) {
      expect(answer.statusCode).toBe(507);
      expect(answer.body).toContain('The database’s disk is full. Nothing was kept');
      expect(answer.headers['retry-after']).toBeUndefined();
    }
    expect(await rows()).toEqual(before);
    // Its bytes lie in the store unnamed, for the sweep; nothing half-received is left.
    expect((await house.kept()).incoming).toEqual([]);
    expect((await contractor.get(`/projects/${projectId}/openings/${openingId}`)).statusCode).toBe(200);
  },
);

it('is told to programs as what it is', async () => {
  await fill('at a statement');
  const { prisma } = house.test.deps;
  const { projectId } = house;
  const thrown: unknown =
    await prisma.$executeRaw`INSERT INTO event (project_id, seq, at, actor_name, type, payload, prev_hash, hash)
      VALUES (${projectId}::uuid, 9999, now(), '', 'x', '{}', '', '')`.then(
      () => null,
      (error: unknown) => error,
    );
  const details = problemDetails(thrown, { publicUrl: 'http://here', requestId: 'one' });
  expect(details).toMatchObject({ type: 'http://here/api#no-room', status: 507 });
});
