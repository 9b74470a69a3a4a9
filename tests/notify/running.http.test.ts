import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { startServer } from '../support/running-server.ts';

/** The service as it is started by anybody: the demo house is handed to the engineer, who is told. */
it('a demo installation puts its letters into a folder', async () => {
  const dataFolder = await mkdtemp(path.join(tmpdir(), 'lintelbook-told-'));
  const server = await startServer({ DEMO: 'first proposal', MAIL_WAIT_SECONDS: '0' }, dataFolder);
  const folder = path.join(dataFolder, 'mail');
  const letters = async () => {
    const names = (await readdir(folder).catch(() => [])).filter((name) => name.endsWith('.eml'));
    return Promise.all(names.map((name) => readFile(path.join(folder, name), 'utf8')));
  };
  const toEngineer = (all: readonly string[]) => all.filter((one) => one.includes('<engineer@demo.example>'));
  while (toEngineer(await letters()).length === 0) await wait(200);
  expect(toEngineer(await letters())[0]).toContain('for your review');
  expect(await server.stop()).toBe(0);
  await rm(dataFolder, { recursive: true });
}, 180_000);
