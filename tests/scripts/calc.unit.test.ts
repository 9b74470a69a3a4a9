import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const examples = readdirSync(path.join(root, 'scripts/examples')).filter((name) => name.endsWith('.json'));
/** What is not met in the worked inputs, as README and usage say. */
const notMet: Readonly<Record<string, readonly string[]>> = {
  'long-span-steel.json': ['Pressure on the soil'],
  'two-storey-flush-lvl.json': ['Lateral load'],
};

function calc(args: string[], input = ''): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync('scripts/calc', args, {
    cwd: root,
    input,
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  return { code: status, out: stdout, err: stderr };
}

interface Schema {
  readonly description?: string;
  readonly properties: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly oneOf?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
}

/** Paths of the fields that have no description. */
function undescribed({ properties, items, oneOf = [], anyOf = [] }: Partial<Schema>, path: string): string[] {
  return [
    ...Object.entries(properties ?? {}).flatMap(([name, field]) => [
      ...(field.description === undefined ? [`${path}.${name}`] : []),
      ...undescribed(field, `${path}.${name}`),
    ]),
    ...[...(items === undefined ? [] : [items]), ...oneOf, ...anyOf].flatMap((one) => undescribed(one, path)),
  ];
}

describe('scripts/calc', () => {
  it.each(examples)('calculates %s, as JSON and as a sheet', (name) => {
    const file = `scripts/examples/${name}`;
    const json = calc([file]);
    expect(json.err).toBe('');
    expect(json.code).toBe(0);
    const outcome = JSON.parse(json.out) as {
      beam: { checks: { id: string; steps: unknown[] }[] };
      passes: boolean;
    };
    expect(outcome.beam.checks.length).toBeGreaterThan(5);
    const sheet = calc([file, '--text']).out;
    expect(sheet).toContain(outcome.passes ? 'All checks are met.' : 'NOT ALL CHECKS ARE MET.');
    // README and usage say of which two this is meant, and why.
    const titles = [...sheet.matchAll(/^NOT MET +[\d.]+ +([^:]+):/gmu)].map(([, title]) => title);
    expect([...new Set(titles)]).toEqual(notMet[name] ?? []);
    expect(sheet).toContain('Not a sealed document.');
    expect(sheet).toMatch(/NDS|AISC/);
    // The same from standard input.
    expect(calc(['-'], readFileSync(path.join(root, file), 'utf8')).out).toBe(json.out);
  });

  it('there are three worked inputs', () => {
    expect(examples).toHaveLength(3);
  });

  it('gives the JSON Schema of its input', () => {
    const schema = JSON.parse(calc(['--schema']).out) as Schema & {
      $schema: string;
      required: string[];
    };
    expect(schema.$schema).toContain('json-schema.org');
    expect(schema.required).toEqual(expect.arrayContaining(['criteria', 'survey', 'beam', 'supports']));
    // Fastening rows describe themselves in their own schema; every other field says what it holds.
    const { rows: _rows, ...described } = schema.properties;
    expect(undescribed({ properties: described }, '')).toEqual([]);
  });

  it.each([
    [['no-such-file.json'], '', 'there is no such file'],
    [['-'], '{', 'not JSON'],
    [['-'], '{}', 'criteria: '],
    [[], '', 'Usage:'],
    [['--what'], '', 'Usage:'],
  ])('bad input %j exits 2 and says why', (args, input, words) => {
    const { code, err, out } = calc(args, input);
    expect(code).toBe(2);
    expect(err).toContain(words);
    expect(out).toBe('');
  });

  it('takes it that whoever reads has read enough', () => {
    const cut = spawnSync('bash', ['-c', 'set -o pipefail; scripts/calc --schema | head -c 20'], {
      cwd: root,
      encoding: 'utf8',
    });
    expect(cut).toMatchObject({ status: 0, stderr: '' });
    expect(cut.stdout).toHaveLength(20);
  });

  it('names the path of each wrong field, of the schema and of the engine', () => {
    const good = JSON.parse(readFileSync(path.join(root, 'scripts/examples', examples[0]!), 'utf8')) as {
      survey: { strips: { spacingIn: number }[]; openingFromIn: number };
    };
    const zero = structuredClone(good);
    zero.survey.strips[0]!.spacingIn = 0;
    expect(calc(['-'], JSON.stringify(zero)).err).toMatch(/^survey\.strips\.0\.spacingIn: /m);
    const huge = JSON.stringify(good).replace(/"openingFromIn":\d+/, '"openingFromIn":1e309');
    expect(calc(['-'], huge)).toMatchObject({ code: 2 });
    const outside = structuredClone(good);
    outside.survey.openingFromIn = 1;
    expect(calc(['-'], JSON.stringify(outside)).err).toMatch(
      /^beam\.bearingLeftIn: The beam would reach past/m,
    );
  });
});
