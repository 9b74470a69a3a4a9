import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

/** What our own code never does, and where the few named exceptions are. Made by a reading of every file. */
const sources = filesBelow('src').filter((file) => !file.includes('/generated/'));

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|js)$/.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name));
}

/** Files with a line of code (no comment) that fits. */
function withLine(pattern: RegExp, among: readonly string[] = sources): string[] {
  return among.filter((file) =>
    readFileSync(file, 'utf8')
      .split('\n')
      .some((line) => !/^\s*(?:\*|\/\/|\/\*)/.test(line) && pattern.test(line)),
  );
}

describe('our own code', () => {
  it('is read whole: what is there is found', () => {
    expect(sources.length).toBeGreaterThan(300);
    expect(withLine(/export async function buildApp/)).toEqual(['src/web/app.ts']);
  });

  it('puts no text into a query but through parameters', () => {
    // Names of our own tables, written in these two files.
    expect(withLine(/RawUnsafe|Prisma\.raw\(/)).toEqual([
      'src/record/verify/strays.ts',
      'src/report/package/import.ts',
    ]);
  });

  it('starts no shell', () => {
    expect(withLine(/\bexecSync\(|\bexec\(['"`]|shell:\s*true/)).toEqual([]);
    // Of the built-in database: a guard beside it and a look at a path. The scripts are constants; what they are told
    // are arguments, and come from the settings.
    expect(withLine(/['"`]\/bin\/sh['"`]/)).toEqual([
      'src/database/embedded/account.ts',
      'src/database/embedded/server.ts',
    ]);
    expect(withLine(/from 'node:child_process'/)).toEqual([
      'src/attachments/bounded-child.ts',
      'src/attachments/heic/reader.ts',
      'src/attachments/pdf/reader.ts',
      'src/database/embedded/account.ts',
      'src/database/embedded/cluster.ts',
      'src/database/embedded/lock.ts',
      'src/database/embedded/server.ts',
    ]);
  });

  it('makes no regular expression of anybody’s words', () => {
    expect(withLine(/new RegExp\((?!\s*String\.raw|\s*$)/)).toEqual([]);
  });

  it('runs no text as code', () => {
    expect(withLine(/\beval\(|new Function\(|from 'node:vm'|renderString\(|setTimeout\(['"`]/)).toEqual([]);
  });

  it('reads no XML', () => {
    expect(withLine(/DOMParser|xml2js|fast-xml-parser|sax|libxml/i)).toEqual([]);
  });

  it('sets no markup from words in the browser', () => {
    const inBrowser = sources.filter((file) => file.startsWith('src/web/assets/'));
    expect(inBrowser.length).toBeGreaterThan(10);
    const places = withLine(
      /innerHTML|outerHTML|insertAdjacentHTML|document\.write|\.srcdoc|parseFromString/,
      inBrowser,
    );
    expect(places).toEqual(MARKUP_FROM_OUR_OWN_PAGES);
  });

  it('listens to no messages of other windows', () => {
    // A BroadcastChannel: pages of the same origin alone.
    expect(withLine(/addEventListener\('message'/)).toEqual(['src/web/assets/offline-store.js']);
    expect(withLine(/window\.addEventListener\('message'|onmessage/)).toEqual([]);
    expect(withLine(/window\.opener|\.postMessage\([^)]*'\*'/)).toEqual([]);
  });

  it('uses no cryptography but the platform’s and argon2', () => {
    expect(withLine(/from ['"](?:crypto-js|bcrypt|md5|sha1|tweetnacl|node-forge)/)).toEqual([]);
    // HMAC-SHA-1 alone is what programs for one-time codes agree on (RFC 6238); nothing is proven by SHA-1 itself.
    expect(withLine(/createHash\((?!'sha256'\))|createHmac\((?!'sha256',)/)).toEqual([
      'src/people/second-factor/one-time-code.ts',
    ]);
    expect(withLine(/createCipheriv\((?!'aes-256-gcm',)|createDecipheriv\((?!'aes-256-gcm',)/)).toEqual([]);
    expect(withLine(/createCipher\(|createSign\(|publicEncrypt|privateDecrypt/)).toEqual([]);
  });

  it('makes every secret of 192 bits or more, from the random source', () => {
    const lengths = sources.flatMap((file) =>
      [...readFileSync(file, 'utf8').matchAll(/randomBytes\((\w+)\)/g)].map(([, length = '']) => length),
    );
    expect(
      lengths
        .filter((length) => /^\d+$/.test(length))
        .map(Number)
        .sort((a, b) => a - b)[0],
    ).toBe(24);
    // Typed by hand or by RFC 4226, and of more than 128 bits still: 160 and 140.
    const named = ['NONCE', 'CODE_SECRET_BYTES', 'RECOVERY_CODE_BYTES'];
    expect(new Set(lengths.filter((length) => !/^\d+$/.test(length)))).toEqual(new Set(named));
    // Pauses before another try are the only thing that Math.random decides.
    expect(withLine(/Math\.random\(/)).toEqual([
      'src/database/listen.ts',
      'src/database/retry.ts',
      'src/web/assets/changes.js',
    ]);
  });

  it('never waives the check of a certificate', () => {
    expect(withLine(/rejectUnauthorized|NODE_TLS_REJECT|checkServerIdentity|insecure: true/)).toEqual([]);
  });

  it('opens connections in the named places alone', () => {
    const server = sources.filter((file) => !file.startsWith('src/web/assets/'));
    expect(
      withLine(/\bfetch\(|from 'node:https?'|from 'node:net'|from 'node:tls'|from 'undici'/, server),
    ).toEqual(OUTWARD);
  });

  it('compares strictly', () => {
    expect(withLine(/[^=!<>]==[^=]|!=[^=]/).filter((file) => !file.startsWith('src/web/assets/'))).toEqual(
      [],
    );
  });
});

/** Pieces of pages that our own service made, put in whole. */
const MARKUP_FROM_OUR_OWN_PAGES: readonly string[] = [
  'src/web/assets/live-result.js',
  'src/web/assets/offline-visit.js',
];
/** Webhooks, behind their judgement of addresses (the rules take `isIP` alone); the look for a free port of the built-in database. */
const OUTWARD: readonly string[] = [
  'src/api/webhooks/call-out.ts',
  'src/api/webhooks/rules.ts',
  'src/database/embedded/server.ts',
];
