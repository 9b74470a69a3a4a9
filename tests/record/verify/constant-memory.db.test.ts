import { randomBytes, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { canonicalJson } from '../../../src/record/canonical.ts';
import { calculationHash, eventHash, GENESIS_HASH, versionHash } from '../../../src/record/hash.ts';
import { freshDatabase, type FreshDatabase } from '../../support/database.ts';
import { openScene, type Scene } from '../support/scene.ts';
import { runVerify } from '../support/scripts.ts';

const VERSIONS = 500;
const CALCULATION_BYTES = 300_000;
/** Of the program's own heap. The record alone is more, and the program itself needs half of it. */
const HEAP_MB = 128;

let database: FreshDatabase;
let scene: Scene;
beforeAll(async () => {
  database = await freshDatabase();
  scene = await openScene(database.prisma);
  await fill();
});
afterAll(() => database.close());

/** One item with many long versions and a whole log, as the program would have written it. */
async function fill(): Promise<void> {
  const { prisma } = database;
  const { projectId, openingId, contractor } = scene;
  const at = new Date('2026-03-02T08:00:00.000Z');
  const itemId = randomUUID();
  const kind = 'drawing';
  await prisma.item.create({
    data: { id: itemId, projectId, openingId, kind, key: 'A1', title: 'A1', createdAt: at },
  });
  let prevHash = GENESIS_HASH;
  let seq = 0;
  const eventOf = (type: string, payload: unknown) => {
    seq += 1;
    const line = {
      projectId,
      seq,
      at,
      actorId: contractor.personId,
      actorName: contractor.name,
      type,
      prevHash,
    };
    prevHash = eventHash({ ...line, payload });
    return { ...line, payload: canonicalJson(payload), hash: prevHash };
  };
  await prisma.event.create({
    data: eventOf('item.created', { itemId, openingId, kind, key: 'A1', title: 'A1' }),
  });
  for (let number = 1; number <= VERSIONS; number += 1) {
    const calculation = randomBytes(CALCULATION_BYTES / 2).toString('hex');
    const content = { caption: `text ${number}` };
    const sum = calculationHash(calculation);
    const engineVersion = 'test 1';
    const hash = versionHash({ kind, content, restsOn: [], calculationHash: sum, engineVersion });
    const versionId = randomUUID();
    const said = {
      itemId,
      number,
      hash,
      reason: '',
      authorId: contractor.personId,
      authorRole: 'contractor',
    } as const;
    await prisma.version.create({
      data: {
        id: versionId,
        projectId,
        ...said,
        content: canonicalJson(content),
        restsOn: '[]',
        calculation,
        calculationHash: sum,
        engineVersion,
        createdAt: at,
      },
      select: { id: true },
    });
    await prisma.event.create({
      data: eventOf('version.saved', { versionId, ...said, origin: 'saved' }),
      select: { seq: true },
    });
  }
}

test(`a record of ${(VERSIONS * CALCULATION_BYTES) / 1e6} MB is verified in a heap of ${HEAP_MB} MB`, async () => {
  const { code, stdout, stderr } = await runVerify(
    { DATABASE_URL: database.url, NODE_OPTIONS: `--max-old-space-size=${HEAP_MB}` },
    scene.projectId,
  );
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toContain(`OK: ${VERSIONS + 1} events, ${VERSIONS} versions`);
});
