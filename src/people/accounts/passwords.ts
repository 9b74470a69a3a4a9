import { hash, verify } from '@node-rs/argon2';

/**
 * argon2id by RFC 9106; memory, passes and lanes as the OWASP Password Storage Cheat Sheet's first
 * recommendation gives them (46 MiB, 1, 1; from memory). argon2id is the package's default algorithm.
 */
const settings = { memoryCost: 47_104, timeCost: 1, parallelism: 1 };

export async function hashPassword(password: string): Promise<string> {
  return hash(password.normalize('NFC'), settings);
}

export async function passwordMatches(passwordHash: string, password: string): Promise<boolean> {
  return verify(passwordHash, password.normalize('NFC'));
}

let decoy: Promise<string> | undefined;

/**
 * Spends the time of a real check where there is no account, so that the answer's delay does not tell
 * whether an address is known.
 */
export async function spendPasswordCheck(password: string): Promise<false> {
  decoy ??= hashPassword('a password nobody has');
  await passwordMatches(await decoy, password);
  return false;
}
