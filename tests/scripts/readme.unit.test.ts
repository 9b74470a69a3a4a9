import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { expect, test } from 'vitest';
import { README_PICTURE, readmePicture } from '../../scripts/readme-picture.ts';

const root = path.resolve(import.meta.dirname, '../..');

// After a change of the drawing: node --import tsx scripts/readme-picture.ts
test('the picture of the README is what the product draws today', async () => {
  expect(await readFile(README_PICTURE, 'utf8')).toBe(await readmePicture());
});

test('README and DEVELOPERS name no file that is not there', async () => {
  for (const document of ['README.md', 'DEVELOPERS.md']) {
    const text = await readFile(path.join(root, document), 'utf8');
    const links = [...text.matchAll(/\]\((?!https?:|#)([^)#]+)/g)].map(([, to = '']) => to);
    const named = [...text.matchAll(/`((?:src|scripts|tests|prisma|templates)\/[\w./-]+)[` ]/g)].map(
      ([, to = '']) => to,
    );
    const there = (one: string) =>
      ['', '.ts', '.mjs'].some((ending) => existsSync(path.join(root, one + ending)));
    expect([...links, ...named].filter((one) => !there(one.replace(/[./]+$/, '')))).toEqual([]);
    expect(named.length).toBeGreaterThan(3);
  }
});
