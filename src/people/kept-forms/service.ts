import { createCipheriv, createDecipheriv, createHash, hkdfSync, randomBytes } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';

export interface KeptFormDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

/** A form as it was sent: the address it was sent to, and its boxes. */
export interface KeptForm {
  readonly path: string;
  readonly fields: Readonly<Record<string, string>>;
}

export const KEPT_FOR_HOURS = 4;
const MS_PER_HOUR = 3_600_000;
/** Of one person at a time; older ones go. */
const MOST_KEPT = 5;
const LONGEST_FORM = 200_000;

/** The boxes of a form that may be kept: no tokens, and nothing that could be a password. */
export function keepableFields(fields: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(fields).filter(([name]) => name !== '_csrf' && name !== '_owner' && !/passw/i.test(name)),
  );
}

const idOf = (token: string) => createHash('sha256').update(token).digest('hex');
const keyOf = (token: string) => Buffer.from(hkdfSync('sha256', token, '', 'kept form', 32));

/** Names a kept form in an address, without giving it away. */
export function keptName(token: string): string {
  return idOf(token).slice(0, 16);
}

/** Keeps a form for its person for some hours. @returns the token that opens it; null where it is too long */
export async function keepForm(
  { prisma, clock }: KeptFormDeps,
  personId: string,
  form: KeptForm,
): Promise<string | null> {
  const { path, fields } = form;
  const text = JSON.stringify({ path, fields: keepableFields(fields) });
  if (text.length > LONGEST_FORM) return null;
  const person = await prisma.person.findFirst({
    where: { id: personId, closedAt: null },
    select: { id: true },
  });
  if (person === null) return null;
  const token = randomBytes(32).toString('base64url');
  const now = clock();
  await prisma.keptForm.deleteMany({ where: { expiresAt: { lte: now } } });
  const expiresAt = new Date(now.getTime() + KEPT_FOR_HOURS * MS_PER_HOUR);
  await prisma.keptForm.create({
    data: { id: idOf(token), personId, body: encrypted(token, text), createdAt: now, expiresAt },
  });
  const older = await prisma.keptForm.findMany({
    where: { personId },
    orderBy: { createdAt: 'desc' },
    skip: MOST_KEPT,
    select: { id: true },
  });
  if (older.length > 0) {
    await prisma.keptForm.deleteMany({ where: { id: { in: older.map((row) => row.id) } } });
  }
  return token;
}

/** Hands a kept form to the person whose it is, once; to anybody else it isn't there, and stays where it is. */
export async function takeKeptForm(
  { prisma, clock }: KeptFormDeps,
  personId: string,
  token: string,
): Promise<KeptForm | null> {
  const rows = await prisma.$queryRaw<{ body: string; expires_at: Date }[]>`
    DELETE FROM kept_form WHERE id = ${idOf(token)} AND person_id = ${personId}::uuid
    RETURNING body, expires_at`;
  const [row] = rows;
  if (row === undefined || row.expires_at <= clock()) return null;
  return JSON.parse(decrypted(token, row.body)) as KeptForm;
}

// AES-256-GCM (NIST SP 800-38D): twelve bytes of nonce, sixteen of tag, then the text.
const NONCE = 12;
const TAG = 16;

function encrypted(token: string, text: string): string {
  const nonce = randomBytes(NONCE);
  const cipher = createCipheriv('aes-256-gcm', keyOf(token), nonce);
  const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
  return Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64');
}

function decrypted(token: string, text: string): string {
  const bytes = Buffer.from(text, 'base64');
  const decipher = createDecipheriv('aes-256-gcm', keyOf(token), bytes.subarray(0, NONCE));
  decipher.setAuthTag(bytes.subarray(NONCE, NONCE + TAG));
  return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()]).toString('utf8');
}
