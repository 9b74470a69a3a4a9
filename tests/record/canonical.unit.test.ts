import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculationText, readCalculation } from '../../src/record/calculation.ts';
import { canonicalJson, isCanonical, sha256Hex } from '../../src/record/canonical.ts';
import { eventHash, GENESIS_HASH, versionHash } from '../../src/record/hash.ts';
import { makeCheck, qty } from '../../src/engineering/trace/index.ts';

describe('canonical JSON against RFC 8785', () => {
  test('section 3.2.2: the sample object', () => {
    const sample = {
      numbers: [Number('333333333.33333329'), 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
      string: '\u20ac$\u000F\u000aA\'\u0042\u0022\u005c\\"/',
      literals: [null, true, false],
    };
    expect(canonicalJson(sample)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  test('section 3.2.3: names are sorted by UTF-16 code units', () => {
    const names = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    // A name that looks like an index would move to the front on reading back.
    expect(Object.values(JSON.parse(canonicalJson(names).replaceAll('"1":', '"one":')) as object)).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  test.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555557', '333333333.33333343'],
  ])('appendix B: the double %s is %s', (bits, text) => {
    expect(canonicalJson(Buffer.from(bits, 'hex').readDoubleBE())).toBe(text);
  });

  test.each([NaN, Infinity, undefined, { a: '\ud800' }, ['\udc00x']])('refuses %j', (value) => {
    expect(() => canonicalJson(value)).toThrow(TypeError);
  });

  test('keeps text that only looks like an escape', () => {
    expect(canonicalJson('\\ud800')).toBe('"\\\\ud800"');
  });

  test('is a fixed point, and reads back as the value', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(isCanonical(text)).toBe(true);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
      }),
    );
  });

  test('tells a changed space from the record', () => {
    expect(isCanonical('{"a":1}')).toBe(true);
    expect(isCanonical('{"a": 1}')).toBe(false);
    expect(isCanonical('{"b":1,"a":1}')).toBe(false);
    expect(isCanonical('{')).toBe(false);
  });
});

describe('hashes', () => {
  test('SHA-256 against the examples of FIPS 180-4', () => {
    expect(sha256Hex('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(sha256Hex('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe(
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    );
  });

  const version = {
    kind: 'beam',
    content: { plies: 3 },
    restsOn: [],
    calculationHash: sha256Hex(''),
    engineVersion: '1',
  };

  test('a version is the hash of its canonical form', () => {
    const text =
      `{"calculationHash":"${sha256Hex('')}","content":{"plies":3},"engineVersion":"1",` +
      '"kind":"beam","restsOn":[]}';
    expect(versionHash(version)).toBe(sha256Hex(text));
  });

  test.each([
    ['kind', { kind: 'support' }],
    ['content', { content: { plies: 4 } }],
    ['restsOn', { restsOn: [1] }],
    ['calculationHash', { calculationHash: sha256Hex('x') }],
    ['engineVersion', { engineVersion: '2' }],
  ])('another %s is another version', (_field, change) => {
    expect(versionHash({ ...version, ...change })).not.toBe(versionHash(version));
  });

  const event = {
    projectId: 'p',
    seq: 1,
    at: new Date('2026-03-02T08:00:00.000Z'),
    actorId: null,
    actorName: 'Lintelbook',
    type: 'project.created',
    payload: {},
    prevHash: GENESIS_HASH,
  };

  test.each([
    ['projectId', { projectId: 'q' }],
    ['seq', { seq: 2 }],
    ['at', { at: new Date('2026-03-02T08:00:00.001Z') }],
    ['actorId', { actorId: 'a' }],
    ['actorName', { actorName: 'Somebody' }],
    ['type', { type: 'project.edited' }],
    ['payload', { payload: { a: 1 } }],
    ['prevHash', { prevHash: sha256Hex('x') }],
  ])('another %s is another event', (_field, change) => {
    expect(eventHash({ ...event, ...change })).not.toBe(eventHash(event));
  });
});

describe('calculations on record', () => {
  const clause = { standard: 'Mechanics', edition: '', section: 'none' } as const;

  test('an infinite ratio comes back infinite', () => {
    const check = makeCheck({ id: 'x', title: 'X', clause, demand: qty(1, 'lb'), capacity: qty(0, 'lb') });
    const calculation = {
      checks: [check],
      steps: [],
      notices: [],
      outputs: { capacity: qty(Infinity, 'lb') },
    };
    expect(readCalculation(calculationText(calculation))).toEqual(calculation);
  });

  test('what is no number is not put on record', () => {
    const calculation = { checks: [], steps: [], notices: [], outputs: { reaction: qty(NaN, 'lb') } };
    expect(() => calculationText(calculation)).toThrow(TypeError);
  });

  test('a kind without calculation has an empty one', () => {
    expect(calculationText(null)).toBe('');
    expect(readCalculation('')).toBeNull();
  });
});
