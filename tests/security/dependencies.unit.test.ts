import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as Record<
  'dependencies' | 'devDependencies',
  Record<string, string>
>;
const direct = { ...manifest.dependencies, ...manifest.devDependencies };
const developers = readFileSync('DEVELOPERS.md', 'utf8');
const listed = new Map(
  [
    ...(/## Dependencies\n([\s\S]*?)\n## /.exec(developers)?.[1] ?? '').matchAll(
      /^\| `([^`]+)` +\| (.*?) +\|$/gm,
    ),
  ].map(([, name = '', why = '']) => [name, why]),
);

const code = ['src', 'tests', 'scripts', 'prisma']
  .flatMap((folder) => readdirSync(folder, { recursive: true, withFileTypes: true }))
  .filter(
    (entry) => entry.isFile() && (/\.(ts|js|mjs|json|prisma)$/.test(entry.name) || !entry.name.includes('.')),
  )
  .map((entry) => path.join(entry.parentPath, entry.name))
  .filter((file) => !file.endsWith('dependencies.unit.test.ts') && !file.includes('generated'))
  .map((file) => ({ file, text: readFileSync(file, 'utf8') }));

/** Files that import the package, or name a file of it. */
function usersOf(name: string): string[] {
  const ways = [`'${name}'`, `"${name}"`, `'${name}/`, `"${name}/`, `node_modules/${name}/`, `/${name}/`];
  return code.filter(({ text }) => ways.some((way) => text.includes(way))).map(({ file }) => file);
}

describe('every direct dependency', () => {
  it('has a line in the list, with why it is there', () => {
    expect([...listed.keys()].sort()).toEqual(Object.keys(direct).sort());
    for (const [name, why] of listed) expect(why.length, name).toBeGreaterThan(3);
  });

  it('is imported somewhere, or the list says what it is for besides', () => {
    const unused = Object.keys(direct).filter(
      (name) =>
        usersOf(name).length === 0 &&
        !/^types of|by its command|named in|loaded by|served as|generate/.test(listed.get(name) ?? ''),
    );
    expect(unused).toEqual([]);
    expect(usersOf('no-such-package')).toEqual([]);
  });

  it('of the service is used by the service, not by tests alone', () => {
    const elsewhere = Object.keys(manifest.dependencies).filter((name) => {
      const users = usersOf(name);
      return users.length > 0 && users.every((file) => file.startsWith('tests/'));
    });
    expect(elsewhere).toEqual([]);
  });

  it('is pinned, and locked with its hash', () => {
    const lock = JSON.parse(readFileSync('package-lock.json', 'utf8')) as {
      packages: Record<string, { version?: string; integrity?: string; resolved?: string; link?: boolean }>;
    };
    for (const [name, version] of Object.entries(direct)) {
      expect(version, name).toMatch(/^\d+\.\d+\.\d+/);
      expect(lock.packages[`node_modules/${name}`]?.version, name).toBe(version);
    }
    const unhashed = Object.entries(lock.packages).filter(
      ([where, one]) => where !== '' && !one.link && !(one.integrity ?? '').startsWith('sha512-'),
    );
    expect(unhashed.map(([where]) => where)).toEqual([]);
  });
});
