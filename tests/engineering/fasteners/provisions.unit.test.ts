import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { provisionsMarkdown } from '../../../src/engineering/fasteners/index.ts';

const cells = (text: string) =>
  text
    .split('\n')
    .filter((line) => line.startsWith('|') && !/^\|[\s|-]+$/.test(line))
    .map((line) => line.split(/(?<!\\)\|/).map((cell) => cell.trim()));

it('documents the very provisions that the engine holds and refuses', () => {
  const docs = readFileSync(new URL('../../../DEVELOPERS.md', import.meta.url), 'utf8');
  const section = docs.split('## Fasteners: provisions held and refused')[1]?.split('\n## ')[0] ?? '';
  expect(cells(section)).toEqual(cells(provisionsMarkdown()));
});
