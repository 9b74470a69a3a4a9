import pg from 'pg';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { eventHash, versionHash } from '../../../src/record/hash.ts';
import { askQuestion } from '../../../src/record/questions/service.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { enterHouse, mark, openScene, submit, type Ids, type Scene } from '../support/scene.ts';
import { runVerify } from '../support/scripts.ts';
import { tamperings } from './tamperings.ts';

let database: FreshDatabase;
let owner: pg.Client;
let scene: Scene;
let ids: Ids;
beforeAll(async () => {
  database = await freshDatabase();
  owner = new pg.Client({ connectionString: database.url });
  await owner.connect();
});
afterAll(async () => {
  await owner.end();
  await database.close();
});

/** A record with something of everything in it. */
async function fullRecord(): Promise<void> {
  scene = await openScene(database.prisma);
  ids = await enterHouse(scene);
  await submit(scene);
  await mark(scene, ids.beam);
  await mark(scene, ids.support, 'returned', 'plate crushes');
  await askQuestion(scene.deps, scene.contractor, { itemId: ids.support, text: 'Three jacks?' });
  await saveVersion(scene.deps, scene.engineer, {
    itemId: ids.fastening,
    expectedNumber: 1,
    content: { rows: 3, spacingIn: 12 },
    reason: 'stagger',
  });
  const { openingId } = scene;
  const { content, openQuestions } = await previewSet(scene.deps, scene.engineer, { openingId });
  await issueSet(scene.deps, scene.engineer, {
    openingId,
    expectedLastNumber: 0,
    entries: content.entries,
    confirmedQuestions: openQuestions.map((question) => question.threadId),
  });
}
beforeEach(fullRecord);

const immutable = [
  'version',
  'mark',
  'submission',
  'submission_entry',
  'approved_set',
  'set_entry',
  'question',
  'event',
  'check',
  'visit',
  'visit_closing',
  'finding',
  'correction_answer',
  'attachment_link',
  'inspection_plan',
  'hold_acceptance',
  'drawing_page',
  'attachment',
  'sheet_note',
];

/** Changes rows as the owner of the tables can: with the guards taken off for a moment. */
async function tamper(table: string, sql: string, values: readonly unknown[] = []): Promise<void> {
  await owner.query(`ALTER TABLE "${table}" DISABLE TRIGGER USER`);
  try {
    const { rowCount } = await owner.query(sql, [...values]);
    expect(rowCount, sql).toBeGreaterThan(0);
  } finally {
    await owner.query(`ALTER TABLE "${table}" ENABLE TRIGGER USER`);
  }
}

describe('an untouched record', () => {
  test('holds, and tells its counts and head', async () => {
    const report = await verifyProject(database.prisma, scene.projectId);
    expect(report).toMatchObject({ versions: 6, marks: 3, sets: 1, broken: null });
    const head = await database.prisma.event.findFirstOrThrow({
      where: { projectId: scene.projectId },
      orderBy: { seq: 'desc' },
    });
    expect(report.head).toEqual({ seq: head.seq, hash: head.hash });
    expect(report.events).toBe(head.seq);
  });

  test('of a project without events holds, too', async () => {
    const empty = await openScene(database.prisma);
    const report = await verifyProject(database.prisma, empty.projectId);
    expect(report).toMatchObject({ events: 0, head: null, broken: null });
  });
});

describe('the database refuses to change or remove, whoever asks', () => {
  test.each(immutable)('%s', async (table) => {
    await expect(owner.query(`TRUNCATE "${table}" CASCADE`)).rejects.toMatchObject({ code: '23001' });
    // A trigger for each row has nothing to refuse in an empty table; that it is there is looked up.
    const { rows } = await owner.query<{ tgname: string; tgtype: number; tgenabled: string }>(
      `SELECT tgname, tgtype, tgenabled FROM pg_trigger WHERE tgrelid = '"${table}"'::regclass AND NOT tgisinternal`,
    );
    // Bits of pg_trigger.tgtype: 1 for each row, 2 before, 8 delete, 16 update, 32 truncate.
    expect(rows.some((row) => (row.tgtype & 27) === 27 && row.tgenabled === 'O')).toBe(true);
    expect(rows.some((row) => (row.tgtype & 34) === 34 && row.tgenabled === 'O')).toBe(true);
    const { rows: there } = await owner.query<{ count: string }>(`SELECT count(*) FROM "${table}"`);
    if (there[0]?.count === '0') return;
    const { rows: columns } = await owner.query<{ name: string }>(
      `SELECT attname AS name FROM pg_attribute WHERE attrelid = '"${table}"'::regclass AND attnum = 1`,
    );
    const column = columns[0]!.name;
    await expect(owner.query(`UPDATE "${table}" SET "${column}" = "${column}"`)).rejects.toMatchObject({
      code: '23001',
    });
    await expect(owner.query(`DELETE FROM "${table}"`)).rejects.toMatchObject({ code: '23001' });
  });
});

describe('what the owner of the database changes is caught, and named', () => {
  test.each(tamperings)('$what', async ({ table, sql, sentence, shows }) => {
    await tamper(table, sql({ scene, ids }));
    const { broken } = await verifyProject(database.prisma, scene.projectId);
    expect(broken?.table).toBe(shows ?? table);
    expect(broken?.sentence).toMatch(sentence);
  });

  test('a version with all its own hashes made to fit', async () => {
    const version = await database.prisma.version.findFirstOrThrow({ where: { itemId: ids.beam } });
    const content = { plies: 2, depthIn: 9.5 };
    const hash = versionHash({
      ...version,
      kind: 'beam',
      content,
      restsOn: JSON.parse(version.restsOn) as unknown,
    });
    const values = ['{"depthIn":9.5,"plies":2}', hash, version.id];
    await tamper('version', 'UPDATE version SET content = $1, hash = $2 WHERE id = $3', values);
    const { broken } = await verifyProject(database.prisma, scene.projectId);
    expect(broken).toMatchObject({ table: 'version', row: version.id });
    expect(broken?.sentence).toMatch(/hash is not what event/);
  });

  test('an event with its own hash made to fit breaks at the next one', async () => {
    const event = await database.prisma.event.findFirstOrThrow({
      where: { projectId: scene.projectId, seq: 2 },
    });
    const hash = eventHash({
      ...event,
      actorName: 'Somebody',
      payload: JSON.parse(event.payload) as unknown,
    });
    const values = [hash, scene.projectId];
    const sql = `UPDATE event SET actor_name = 'Somebody', hash = $1 WHERE project_id = $2 AND seq = 2`;
    await tamper('event', sql, values);
    const { broken } = await verifyProject(database.prisma, scene.projectId);
    expect(broken).toEqual({
      table: 'event',
      row: '3',
      sentence: 'Event 3 does not name the hash of the one before it.',
    });
  });

  test('a log written anew to its end, hashes and all, breaks at the head that the set was frozen with', async () => {
    const { projectId } = scene;
    const events = await database.prisma.event.findMany({ where: { projectId }, orderBy: { seq: 'asc' } });
    let prevHash = events[0]!.hash;
    for (const event of events.slice(1)) {
      const actorName = event.seq === 2 ? 'Somebody' : event.actorName;
      const payload = JSON.parse(event.payload) as unknown;
      const hash = eventHash({ ...event, actorName, payload, prevHash });
      await tamper(
        'event',
        'UPDATE event SET actor_name = $1, prev_hash = $2, hash = $3 WHERE project_id = $4 AND seq = $5',
        [actorName, prevHash, hash, projectId, event.seq],
      );
      prevHash = hash;
    }
    const { broken } = await verifyProject(database.prisma, projectId);
    expect(broken?.table).toBe('approved_set');
    expect(broken?.sentence).toMatch(/frozen with \(\d+\) has another hash now/);
  });

  test('a mark slipped in past the program', async () => {
    const version = await database.prisma.version.findFirstOrThrow({
      where: { itemId: ids.support },
    });
    // Adding is what the guards allow: that it has no event is what gives it away.
    await owner.query(
      `INSERT INTO mark (project_id, version_id, version_hash, number, word, by_id)
       VALUES ($1, $2, $3, 2, 'approved', $4)`,
      [scene.projectId, version.id, version.hash, scene.engineer.personId],
    );
    const { broken } = await verifyProject(database.prisma, scene.projectId);
    expect(broken).toMatchObject({ table: 'mark', sentence: 'No event recorded it.' });
  });

  test('a removed mark', async () => {
    const { id } = await database.prisma.mark.findFirstOrThrow({
      where: { projectId: scene.projectId, word: 'returned' },
    });
    await tamper('mark', 'DELETE FROM mark WHERE id = $1', [id]);
    const { broken } = await verifyProject(database.prisma, scene.projectId);
    expect(broken).toMatchObject({ table: 'mark', row: id });
    expect(broken?.sentence).toMatch(/and it is gone/);
  });

  test('in one project leaves the others holding', async () => {
    const tampered = scene.projectId;
    await tamper('question', "UPDATE question SET text = 'x' WHERE project_id = $1", [scene.projectId]);
    await fullRecord();
    expect((await verifyProject(database.prisma, tampered)).broken).not.toBeNull();
    expect((await verifyProject(database.prisma, scene.projectId)).broken).toBeNull();
  });
});

describe('scripts/verify', () => {
  const run = (...given: readonly string[]) => runVerify({ DATABASE_URL: database.url }, ...given);

  test('says OK and ends with 0; names the break and ends with 1', async () => {
    const whole = await run(scene.projectId);
    expect(whole.stdout).toContain(`${scene.projectId} OK: `);
    expect(whole.code).toBe(0);
    await tamper('question', "UPDATE question SET text = 'x' WHERE project_id = $1", [scene.projectId]);
    const broken = await run(scene.projectId);
    expect(broken.stdout).toMatch(
      /BROKEN at question [0-9a-f-]{36}: Its text is not what event \d+ recorded/,
    );
    expect(broken.code).toBe(1);
    expect((await run('--all')).code).toBe(1);
  });

  test('tells a wrong call from a broken record: 2', async () => {
    expect(await run()).toMatchObject({ code: 2, stdout: '' });
    const unknown = await run('00000000-0000-0000-0000-000000000000');
    expect(unknown).toMatchObject({ code: 2 });
    expect(unknown.stderr).toContain('There is no project');
  });
});
