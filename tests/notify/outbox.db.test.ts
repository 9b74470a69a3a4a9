import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import postgres from 'postgres';
import { lastDailyMoment } from '../../src/notify/outbox/digest-time.ts';
import { forgetOld } from '../../src/notify/outbox/forget.ts';
import { gather } from '../../src/notify/outbox/gather.ts';
import { newsOnEvent } from '../../src/notify/outbox/listener.ts';
import { lettersOf } from '../../src/notify/mail/letters.ts';
import { useCase } from '../../src/record/use-case.ts';
import { enterHouse, mark, openScene, submit, type Ids, type Scene } from '../record/support/scene.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { testPublicUrl, testSecret } from './support/sending.ts';

let database: FreshDatabase;
let scene: Scene;
let ids: Ids;
beforeAll(async () => {
  database = await freshDatabase();
});
afterAll(() => database.close());
beforeEach(async () => {
  await database.prisma.news.deleteMany({});
  await database.prisma.letter.deleteMany({});
  scene = await openScene(database.prisma, { listeners: [newsOnEvent] });
  ids = await enterHouse(scene);
});

const news = () =>
  database.prisma.news.findMany({
    orderBy: [{ seq: 'asc' }, { person: { name: 'asc' } }],
    include: { person: true },
  });
const at = (iso: string) => new Date(iso);
const minute = { waitMs: 60_000, dailyHour: 6 };

describe('the outbox', () => {
  it('has a row for everybody who must be told, none for the actor and none for a stranger', async () => {
    await openScene(database.prisma);
    await submit(scene);
    expect((await news()).map(({ person, role }) => `${person.name} ${role}`)).toEqual([
      'K. O. engineer',
      'M. B. engineer',
      'S. L. owner',
    ]);
    await mark(scene, ids.beam, 'returned', 'Deeper, please');
    const last = (await news()).at(-1)!;
    expect(last).toMatchObject({
      personId: scene.contractor.personId,
      path: `/projects/${scene.projectId}/items/${ids.beam}`,
    });
    expect(last.line).toContain('as returned: “Deeper, please”');
  });

  it('calls for lines and for a letter that goes at once, not for one that was gathered', async () => {
    const sql = postgres(database.url, { max: 1 });
    const heard: string[] = [];
    await sql.listen('lintelbook_outbox', (word) => heard.push(word));
    await submit(scene);
    for (const kind of ['news', 'daily', 'new-password']) {
      await database.prisma.letter.create({ data: { key: `called ${kind}`, kind } });
    }
    await sql.notify('lintelbook_outbox', 'end');
    await expect.poll(() => heard).toContain('end');
    expect(heard).toEqual(['news', 'letter', 'end']);
    await database.prisma.letter.deleteMany({});
    await sql.end();
  });

  it('has nothing of what did not happen', async () => {
    const undone = useCase(scene.deps, scene.contractor, 'submission.create', async ({ append }) => {
      await append('versions.submitted', {
        submissionId: scene.openingId,
        openingId: scene.openingId,
        number: 1,
        note: '',
        versions: [],
      });
      expect(await database.prisma.news.count()).toBe(0);
      throw new Error('undone');
    });
    await expect(undone).rejects.toThrow('undone');
    expect(await database.prisma.news.count()).toBe(0);
  });

  it('has no row for who wants no mail, has left or has closed the account', async () => {
    const { prisma } = database;
    await prisma.person.update({ where: { id: scene.engineer.personId }, data: { mailChoice: 'none' } });
    await prisma.person.update({ where: { id: scene.owner.personId }, data: { closedAt: new Date() } });
    await prisma.membership.updateMany({
      where: { personId: scene.secondEngineer.personId },
      data: { revokedAt: new Date() },
    });
    await submit(scene);
    expect(await news()).toEqual([]);
  });
});

describe('gathering', () => {
  async function markAll() {
    await submit(scene);
    await mark(scene, ids.beam);
    await mark(scene, ids.support, 'returned', 'Three jacks');
    await mark(scene, ids.fastening);
  }
  const lettersTo = (personId: string) =>
    database.prisma.letter.findMany({ where: { personId }, include: { news: true } });

  it('waits for neighbours, then makes one letter of three marks', async () => {
    await markAll();
    const first = (await news())[0]!.createdAt;
    expect(await gather(database.prisma, new Date(first.getTime() + 30_000), minute)).toEqual({
      made: 0,
      left: true,
    });
    // The contractor, two engineers, the owner.
    expect(await gather(database.prisma, new Date(first.getTime() + 90_000), minute)).toEqual({
      made: 4,
      left: false,
    });
    const [letter, ...more] = await lettersTo(scene.contractor.personId);
    expect(more).toEqual([]);
    expect(letter!.news).toHaveLength(3);
    const words = await lettersOf({
      prisma: database.prisma,
      clock: () => new Date(),
      config: { publicUrl: testPublicUrl },
      secret: testSecret,
    })(letter!);
    expect(words!.subject).toBe('Cinder Ferry: 3 pieces of news');
    expect(await gather(database.prisma, new Date(first.getTime() + 91_000), minute)).toEqual({
      made: 0,
      left: false,
    });
  });

  it('by two processes at once puts every line into exactly one letter', async () => {
    await markAll();
    const later = new Date((await news())[0]!.createdAt.getTime() + 90_000);
    const gathered = await Promise.all([1, 2, 3].map(() => gather(database.prisma, later, minute)));
    const made = gathered.map((one) => one.made);
    expect(made.reduce((sum, one) => sum + one, 0)).toBe(4);
    expect(await database.prisma.letter.count()).toBe(4);
    expect((await news()).every(({ letterId }) => letterId !== null)).toBe(true);
  });

  it('once a day: nothing before the hour, everything of the day after it', async () => {
    await database.prisma.person.update({
      where: { id: scene.contractor.personId },
      data: { mailChoice: 'daily' },
    });
    await markAll();
    const written = (await news()).at(-1)!.createdAt;
    const nextMorning = new Date(lastDailyMoment(written, 6).getTime() + 24 * 3_600_000);
    await gather(database.prisma, new Date(nextMorning.getTime() - 60_000), minute);
    expect(await lettersTo(scene.contractor.personId)).toEqual([]);
    await gather(database.prisma, nextMorning, minute);
    expect(await lettersTo(scene.contractor.personId)).toMatchObject([{ kind: 'daily', news: [{}, {}, {}] }]);
  });

  it('goes by the choice of this moment, and drops what nobody is to have any more', async () => {
    await markAll();
    await database.prisma.person.update({
      where: { id: scene.contractor.personId },
      data: { mailChoice: 'none' },
    });
    await database.prisma.membership.updateMany({
      where: { personId: scene.owner.personId },
      data: { revokedAt: new Date() },
    });
    const later = new Date((await news())[0]!.createdAt.getTime() + 90_000);
    await gather(database.prisma, later, minute);
    expect(await lettersTo(scene.contractor.personId)).toEqual([]);
    expect(await lettersTo(scene.owner.personId)).toEqual([]);
    const dropped = (await news()).filter(({ droppedAt }) => droppedAt !== null);
    expect(new Set(dropped.map(({ person }) => person.name))).toEqual(new Set(['R. T.', 'S. L.']));
  });

  it('forgets what went out a quarter of a year ago, and nothing that waits', async () => {
    await markAll();
    const { createdAt } = (await news())[0]!;
    await gather(database.prisma, new Date(createdAt.getTime() + 90_000), minute);
    const settledAt = new Date(createdAt.getTime() + 100_000);
    const sent = await database.prisma.letter.findFirstOrThrow({ where: { personId: scene.owner.personId } });
    await database.prisma.letter.update({ where: { id: sent.id }, data: { state: 'sent', settledAt } });
    await forgetOld(database.prisma, new Date(createdAt.getTime() + 30 * 86_400_000));
    expect(await database.prisma.letter.count()).toBe(4);
    await forgetOld(database.prisma, new Date(createdAt.getTime() + 91 * 86_400_000));
    expect(await database.prisma.letter.findUnique({ where: { id: sent.id } })).toBeNull();
    expect(await database.prisma.letter.count()).toBe(3);
  });
});

describe('the moment of daily letters', () => {
  it('is the last one at the hour, by the server’s clock', () => {
    expect(lastDailyMoment(new Date(2026, 2, 3, 6, 0), 6)).toEqual(new Date(2026, 2, 3, 6));
    expect(lastDailyMoment(new Date(2026, 2, 3, 5, 59), 6)).toEqual(new Date(2026, 2, 2, 6));
    expect(lastDailyMoment(at('2026-03-01T00:00:00Z'), 0).getTime()).toBeLessThanOrEqual(
      at('2026-03-01T00:00:00Z').getTime(),
    );
  });
});
