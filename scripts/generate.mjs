#!/usr/bin/env node
// Generates the Prisma client into src/database/generated; does nothing when it is up to date.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const target = join(root, 'src/database/generated');
const stampFile = join(target, '.stamp');

const hash = createHash('sha256');
for (const file of [
  'prisma/schema.prisma',
  'prisma/prisma.config.ts',
  'node_modules/prisma/package.json',
  'scripts/generate.mjs',
]) {
  hash.update(readFileSync(join(root, file))).update('\0');
}
const stamp = hash.digest('hex');

if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) process.exit(0);

const result = spawnSync(
  process.execPath,
  [join(root, 'node_modules/prisma/build/index.js'), 'generate', '--config', 'prisma/prisma.config.ts'],
  {
    cwd: root,
    encoding: 'utf8',
    env: {
      ...process.env,
      // The command looks for a native schema engine and would download one, though generating never runs
      // it. Any executable satisfies it; without this, no internet means no client.
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
  },
);
if (result.status !== 0) {
  console.error(`The Prisma client could not be generated.\n${result.stdout}${result.stderr}`);
  process.exit(1);
}
mkdirSync(target, { recursive: true });
writeFileSync(stampFile, stamp);
