import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { faults } from './table.ts';

const root = path.resolve(import.meta.dirname, '../..');

describe('every fault has its tests', () => {
  const named = faults.flatMap(({ fault, tests }) => tests.map((test) => ({ fault, ...test })));
  it.each(named)('$file: $name', async ({ file, name }) => {
    const source = await readFile(path.join(root, file), 'utf8');
    const escaped = name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    expect(source).toMatch(
      new RegExp(`\\b(it|test)(\\.each\\([^)]*\\))?\\(\\s*['"]${escaped}['"]|\\)\\(\\s*'${escaped}'`),
    );
  });

  it('and none is without', () => {
    expect(faults.filter(({ tests }) => tests.length === 0)).toEqual([]);
    expect(new Set(faults.map(({ fault }) => fault)).size).toBe(faults.length);
  });
});
