import { readFile, rm, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildHouse, type House } from '../../attachments/support/house.ts';
import { sha256Of } from '../../attachments/support/hostile-files.ts';
import { testPdf, testPhoto } from '../../support/test-files.ts';
import { runVerify } from '../support/scripts.ts';

/** `scripts/verify` itself, over a store of files in which something happened. */
let house: House;
let place = '';
let bytes: Buffer;
let rows: string[] = [];
beforeAll(async () => {
  house = await buildHouse();
  await house.send(await testPhoto(3));
  // The same drawing twice: one stored file, two rows.
  await house.send(testPdf());
  await house.send(testPdf());
  const sha256 = sha256Of(testPdf().buffer);
  place = house.blobPath(sha256);
  bytes = await readFile(place);
  const found = await house.test.deps.prisma.attachment.findMany({
    where: { sha256 },
    orderBy: { id: 'asc' },
  });
  rows = found.map((row) => row.id);
  expect(rows).toHaveLength(2);
});
afterAll(() => house.test.close());

const verify = () =>
  runVerify(
    { DATABASE_URL: house.test.databaseUrl, DATA_DIR: house.test.deps.config.dataFolder },
    house.projectId,
  );

test('whole files: 0', async () => {
  const { code, stdout, stderr } = await verify();
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toContain(`${house.projectId} OK: 3 files have their hash`);
});

const cut = () => writeFile(place, bytes.subarray(0, -1));
test.each([
  [
    'a changed byte',
    () => {
      const changed = Buffer.from(bytes);
      changed[20]! ^= 1;
      return writeFile(place, changed);
    },
    () => 'Its stored bytes do not have the hash it is recorded with.',
  ],
  ['a cut end', cut, () => `Its stored file has ${bytes.length - 1} bytes, and ${bytes.length} were sent.`],
  [
    'nothing left of it',
    () => writeFile(place, ''),
    () => `Its stored file has 0 bytes, and ${bytes.length} were`,
  ],
  ['no file', () => rm(place), () => 'Its stored file is missing.'],
])('%s: each row of it is named, and the end is 1', async (_what, harm, sentence) => {
  await harm();
  const { code, stdout } = await verify();
  await writeFile(place, bytes);
  expect(code).toBe(1);
  for (const row of rows) expect(stdout).toContain(`BROKEN at attachment ${row}: ${sentence()}`);
  expect(stdout.match(/BROKEN/g)).toHaveLength(2);
  // The record itself holds; it is the bytes that do not.
  expect(stdout).toContain(`${house.projectId} OK: `);
  expect((await verify()).code).toBe(0);
});
