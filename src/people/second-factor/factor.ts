import { randomBytes } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { Prisma, PrismaClient } from '../../database/generated/client.ts';
import { inTransaction } from '../../database/retry.ts';
import { Invalid, Refused } from '../../problems.ts';
import { seal, unseal } from '../../sealed.ts';
import { tellOfAccount } from '../accounts/told.ts';
import { fromBase32, toBase32 } from './base32.ts';
import { stepOfCode } from './one-time-code.ts';
import { makeRecoveryCodes, recoveryCodeHash } from './recovery-codes.ts';

export interface FactorDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  /** Of the installation: what the secrets of codes are sealed under. */
  readonly secret: string;
}

/** RFC 4226 section 4, R6, recommends 160 bits; programs that make codes expect no more. */
const CODE_SECRET_BYTES = 20;
const PURPOSE = 'lintelbook one-time codes';
/** A secret that was shown and not confirmed is forgotten after this: it may have been seen. */
const CONFIRM_WITHIN_MS = 15 * 60_000;

export const WRONG_CODE =
  'That code is not right just now, or it was used already. Wait for the next one and type it as it stands.';

export type FactorState =
  | { readonly is: 'off' }
  /** The secret is shown until a first code confirms it. */
  | { readonly is: 'begun'; readonly secretBase32: string }
  | { readonly is: 'on'; readonly since: Date; readonly recoveryCodesLeft: number };

/** Does signing in ask this person for a code? */
export async function hasCodes(prisma: PrismaClient, personId: string): Promise<boolean> {
  const row = await prisma.secondFactor.findUnique({ where: { personId }, select: { confirmedAt: true } });
  return row !== null && row.confirmedAt !== null;
}

export async function readFactor(deps: FactorDeps, personId: string): Promise<FactorState> {
  const row = await deps.prisma.secondFactor.findUnique({ where: { personId } });
  if (row === null) return { is: 'off' };
  if (row.confirmedAt !== null) {
    const recoveryCodesLeft = await deps.prisma.recoveryCode.count({ where: { personId, usedAt: null } });
    return { is: 'on', since: row.confirmedAt, recoveryCodesLeft };
  }
  const secretBase32 = opened(deps, row);
  return secretBase32 === null ? { is: 'off' } : { is: 'begun', secretBase32 };
}

/** Null where nothing is begun that can still be confirmed. */
function opened(deps: FactorDeps, row: { begunAt: Date; sealedSecret: string }): string | null {
  if (deps.clock().getTime() - row.begunAt.getTime() > CONFIRM_WITHIN_MS) return null;
  try {
    return unseal(row.sealedSecret, deps.secret, PURPOSE);
  } catch {
    return null;
  }
}

/**
 * Makes a secret for the person's program. Nothing is asked at sign-in until a first code has confirmed it; whoever
 * begins again gets another one.
 *
 * @throws Refused where codes are on
 */
export async function beginCodes(deps: FactorDeps, personId: string): Promise<void> {
  const secretBase32 = toBase32(randomBytes(CODE_SECRET_BYTES));
  const sealedSecret = seal(secretBase32, deps.secret, PURPOSE);
  const begunAt = deps.clock();
  await inTransaction(deps.prisma, async (tx) => {
    await tx.secondFactor.deleteMany({ where: { personId, confirmedAt: null } });
    const { count } = await tx.secondFactor.createMany({
      data: { personId, sealedSecret, begunAt },
      skipDuplicates: true,
    });
    if (count === 0)
      throw new Refused('One-time codes are on already. Switch them off before you begin anew.');
  });
}

/**
 * Switches codes on with the first one that the person's program shows. That code is used then, too.
 *
 * @returns ten recovery codes, to be shown once
 * @throws Refused where nothing is begun, or too long ago; Invalid at `code`
 */
export async function confirmCodes(deps: FactorDeps, personId: string, code: string): Promise<string[]> {
  const now = deps.clock();
  const row = await deps.prisma.secondFactor.findUnique({ where: { personId } });
  // A page that is loaded again sends its form again.
  if (row !== null && row.confirmedAt !== null) throw new Refused('One-time codes are on already.');
  const secretBase32 = row === null ? null : opened(deps, row);
  if (secretBase32 === null) throw new Refused('That took too long. Begin again, with a new picture.');
  const step = stepOfCode(fromBase32(secretBase32), code, now, null);
  if (step === null) throw new Invalid({ code: WRONG_CODE });
  return inTransaction(deps.prisma, async (tx) => {
    const { count } = await tx.secondFactor.updateMany({
      // The very secret that the code was made from: another page may have begun anew meanwhile.
      where: { personId, confirmedAt: null, sealedSecret: row?.sealedSecret ?? '' },
      data: { confirmedAt: now, lastStep: step },
    });
    if (count === 0) throw new Refused('This was begun anew on another page meanwhile. Confirm it there.');
    await tellOfAccount(tx, personId, 'codes-on', now);
    return replaceRecoveryCodes(tx, personId, now);
  });
}

/** Ten new ones; those before are worth nothing. @throws Refused where codes are off */
export async function renewRecoveryCodes(deps: FactorDeps, personId: string): Promise<string[]> {
  const now = deps.clock();
  return inTransaction(deps.prisma, async (tx) => {
    const { count } = await tx.secondFactor.updateMany({
      where: { personId, confirmedAt: { not: null } },
      data: { personId },
    });
    if (count === 0) throw new Refused('One-time codes are off: there is nothing to recover.');
    await tellOfAccount(tx, personId, 'recovery-codes', now);
    return replaceRecoveryCodes(tx, personId, now);
  });
}

async function replaceRecoveryCodes(
  tx: Prisma.TransactionClient,
  personId: string,
  madeAt: Date,
): Promise<string[]> {
  const codes = makeRecoveryCodes();
  await tx.recoveryCode.deleteMany({ where: { personId } });
  await tx.recoveryCode.createMany({
    data: codes.map((code) => ({ codeHash: recoveryCodeHash(code), personId, madeAt })),
  });
  return codes;
}

/** The password alone lets in from now on. @returns whether codes were on */
export async function switchCodesOff(
  { prisma, clock }: Pick<FactorDeps, 'prisma' | 'clock'>,
  personId: string,
): Promise<boolean> {
  return inTransaction(prisma, async (tx) => {
    const { count } = await tx.secondFactor.deleteMany({ where: { personId, confirmedAt: { not: null } } });
    await tx.recoveryCode.deleteMany({ where: { personId } });
    // Whoever is between password and code begins again.
    await tx.begunSignIn.deleteMany({ where: { personId } });
    if (count > 0) await tellOfAccount(tx, personId, 'codes-off', clock());
    return count > 0;
  });
}

/**
 * Uses a code up, in the transaction of the sign-in.
 *
 * @throws Invalid at `code`
 */
export async function useCode(
  tx: Prisma.TransactionClient,
  deps: FactorDeps,
  personId: string,
  code: string,
): Promise<void> {
  const row = await tx.secondFactor.findUnique({ where: { personId } });
  if (row === null) throw new Invalid({ code: WRONG_CODE });
  let key: Buffer;
  try {
    key = fromBase32(unseal(row.sealedSecret, deps.secret, PURPOSE));
  } catch {
    throw new Invalid({
      code: 'The codes of this account can’t be checked any more: this installation has another secret now. Use a recovery code, or ask whoever runs it.',
    });
  }
  const step = stepOfCode(key, code, deps.clock(), row.lastStep === null ? null : Number(row.lastStep));
  if (step === null) throw new Invalid({ code: WRONG_CODE });
  const { count } = await tx.secondFactor.updateMany({
    where: { personId, confirmedAt: { not: null }, OR: [{ lastStep: null }, { lastStep: { lt: step } }] },
    data: { lastStep: step },
  });
  // Of two who come with one code at once, one is let in.
  if (count === 0) throw new Invalid({ code: WRONG_CODE });
}

/** Uses a recovery code up. @throws Invalid at `recoveryCode` */
export async function useRecoveryCode(
  tx: Prisma.TransactionClient,
  { clock }: Pick<FactorDeps, 'clock'>,
  personId: string,
  typed: string,
): Promise<void> {
  const now = clock();
  const { count } = await tx.recoveryCode.updateMany({
    where: { personId, codeHash: recoveryCodeHash(typed), usedAt: null },
    data: { usedAt: now },
  });
  if (count === 0) {
    throw new Invalid({ recoveryCode: 'That is none of your recovery codes, or it was used already.' });
  }
  await tellOfAccount(tx, personId, 'recovery-code-used', now);
}
