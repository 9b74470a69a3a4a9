import fc from 'fast-check';

export type Json = Record<string, unknown>;

/** What no schema of ours takes, or only sometimes: wrong types, bounds, numbers that are none, texts that hurt. */
const nasty = fc.constantFrom<unknown>(
  null,
  true,
  '',
  'NaN',
  'Infinity',
  '-0',
  0,
  -1,
  1e-300,
  1e308,
  0.1 + 0.2,
  Number.MAX_SAFE_INTEGER,
  '\u0000',
  '\ud800',
  '__proto__',
  '<b>x</b>',
  'é'.repeat(5000),
  [],
  {},
  [[[]]],
  { a: null },
);

function resolve(schema: Json, root: Json): Json {
  const { $ref: reference } = schema;
  if (typeof reference !== 'string') return schema;
  return reference
    .replace('#/', '')
    .split('/')
    .reduce<unknown>((at, part) => (at as Json)[part], root) as Json;
}

/** A value that fits a JSON Schema about as often as not: each part of it may be replaced, left out or doubled. */
export function nearly(given: Json, root: Json, depth = 0): fc.Arbitrary<unknown> {
  const schema = resolve(given, root);
  const fitting = fit(schema, root, depth);
  return fc.oneof({ weight: 12, arbitrary: fitting }, { weight: 1, arbitrary: nasty });
}

function fit(schema: Json, root: Json, depth: number): fc.Arbitrary<unknown> {
  const choices = (schema.anyOf ?? schema.oneOf) as Json[] | undefined;
  if (choices !== undefined) return fc.oneof(...choices.map((choice) => nearly(choice, root, depth + 1)));
  if ('const' in schema) return fc.constant(schema.const);
  if (Array.isArray(schema.enum)) return fc.constantFrom<unknown>(...(schema.enum as unknown[]));
  switch (schema.type) {
    case 'object':
      return objectOf(schema, root, depth);
    case 'array':
      return fc.array(nearly((schema.items as Json | undefined) ?? {}, root, depth + 1), { maxLength: 3 });
    case 'integer':
    case 'number':
      return numberOf(schema);
    case 'boolean':
      return fc.boolean();
    case 'string':
      return fc.oneof(fc.string({ maxLength: 30 }), fc.uuid(), fc.constant('2026-11-25T10:00:00Z'));
    default:
      return nasty;
  }
}

function numberOf({ minimum, maximum, exclusiveMinimum, type }: Json): fc.Arbitrary<number> {
  const low = Number(minimum ?? exclusiveMinimum ?? 0);
  const high = Math.min(Number(maximum ?? 1000), 1e6);
  const inside =
    type === 'integer'
      ? fc.integer({ min: Math.ceil(low), max: Math.max(Math.ceil(low), Math.floor(high)) })
      : fc.double({ min: low, max: Math.max(low, high), noNaN: true });
  return fc.oneof({ weight: 6, arbitrary: inside }, fc.constantFrom(low, high, low - 1, high + 1, low / 3));
}

function objectOf(schema: Json, root: Json, depth: number): fc.Arbitrary<unknown> {
  const properties = Object.entries((schema.properties ?? {}) as Record<string, Json>);
  const required = (schema.required ?? []) as string[];
  const record = fc.record(
    Object.fromEntries(properties.map(([name, of]) => [name, nearly(of, root, depth + 1)])),
    { requiredKeys: required },
  );
  return fc
    .tuple(record, fc.nat({ max: 19 }), fc.constantFrom(...(required.length > 0 ? required : ['x'])))
    .map(([made, dice, name]): unknown => {
      if (dice === 0) return { ...made, surprise: 1 };
      if (dice === 1) return Object.fromEntries(Object.entries(made).filter(([key]) => key !== name));
      return made;
    });
}

/** A body that fits, with one to three of its leaves changed: what gets past the schema, and into the calculation. */
export function bent(whole: unknown): fc.Arbitrary<string> {
  const leaf = fc.oneof(
    { weight: 3, arbitrary: fc.double({ min: -2, max: 40, noNaN: true }).map((by) => ({ by })) },
    { weight: 1, arbitrary: nasty.map((to) => ({ to })) },
  );
  return fc
    .array(fc.tuple(fc.nat(), leaf), { minLength: 1, maxLength: 3 })
    .map((changes) =>
      JSON.stringify(changes.reduce<unknown>((made, [at, how]) => bend(made, at, how), whole)),
    );
}

function bend(whole: unknown, at: number, how: { by: number } | { to: unknown }): unknown {
  const leaves = countLeaves(whole);
  let left = at % Math.max(1, leaves);
  const walk = (value: unknown): unknown => {
    if (Array.isArray(value) && value.length > 0) return value.map(walk);
    if (typeof value === 'object' && value !== null && Object.keys(value).length > 0) {
      return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, walk(part)]));
    }
    const chosen = left === 0;
    left -= 1;
    if (!chosen) return value;
    if ('to' in how) return how.to;
    return typeof value === 'number' ? value * how.by : value;
  };
  return walk(whole);
}

function countLeaves(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 1;
  const parts = Object.values(value);
  return parts.length === 0 ? 1 : parts.reduce<number>((sum, part) => sum + countLeaves(part), 0);
}

/** The text of a body: JSON that nearly fits; now and then numbers that JSON can spell and no schema takes, or no JSON. */
export function badBody(schema: Json, root: unknown): fc.Arbitrary<string> {
  const made = nearly(schema, root as Json).map((value) => JSON.stringify(value));
  return fc.oneof(
    { weight: 12, arbitrary: made },
    { weight: 1, arbitrary: made.map((text) => text.replace(/:\d+/, ':1e999')) },
    {
      weight: 1,
      arbitrary: fc.constantFrom('', '{', 'NaN', '[1,]', '{"__proto__":{"a":1}}', '{"a":NaN}', '\u0000'),
    },
  );
}
