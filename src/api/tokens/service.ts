import type { Clock } from '../../actor.ts';
import type { PrismaClient } from '../../database/generated/client.ts';
import type { SignedIn } from '../../people/sessions/sessions.ts';
import { NotFound, Refused } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { scopes, type Scope } from './scopes.ts';
import { hashToken, makeToken, tokenOf } from './token.ts';

export interface TokenDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
}

/** The token by which a request came. */
export interface TokenUse {
  readonly tokenId: string;
  readonly scopes: readonly Scope[];
}

export type ReadToken = (
  authorization: string | undefined,
) => Promise<{ readonly person: SignedIn; readonly token: TokenUse } | null>;

const MS_PER_DAY = 86_400_000;
/** "Last used" is right to the minute: a program that reads a page a second does not write a row a second. */
const MS_BETWEEN_USES = 60_000;
const MOST_LIVE = 50;

export interface TokenLine {
  readonly tokenId: string;
  readonly name: string;
  readonly scopes: readonly Scope[];
  readonly createdAt: Date;
  readonly expiresAt: Date;
  readonly lastUsedAt: Date | null;
  readonly revokedAt: Date | null;
  readonly live: boolean;
}

const known = (names: readonly string[]): Scope[] => scopes.filter((scope) => names.includes(scope));

/**
 * Makes a token. It is in the answer and nowhere else: only its hash is kept.
 *
 * @throws Refused where the person has as many live tokens as anybody needs
 */
export async function createToken(
  { prisma, clock }: TokenDeps,
  personId: string,
  input: { readonly name: string; readonly scopes: readonly Scope[]; readonly days: number },
): Promise<{ readonly tokenId: string; readonly token: string; readonly expiresAt: Date }> {
  const at = clock();
  const live = await prisma.accessToken.count({
    where: { personId, revokedAt: null, expiresAt: { gt: at } },
  });
  if (live >= MOST_LIVE) throw new Refused(`You have ${live} tokens; revoke one that nothing uses any more.`);
  const token = makeToken();
  const expiresAt = new Date(at.getTime() + input.days * MS_PER_DAY);
  const { id } = await prisma.accessToken.create({
    data: {
      personId,
      name: input.name,
      scopes: known(input.scopes),
      tokenHash: hashToken(token),
      createdAt: at,
      expiresAt,
    },
    select: { id: true },
  });
  return { tokenId: id, token, expiresAt };
}

/** A person's tokens, newest first; the revoked and expired ones of the last 90 days among them. */
export async function listTokens({ prisma, clock }: TokenDeps, personId: string): Promise<TokenLine[]> {
  const at = clock();
  const since = new Date(at.getTime() - 90 * MS_PER_DAY);
  const rows = await prisma.accessToken.findMany({
    where: { personId, expiresAt: { gt: since }, OR: [{ revokedAt: null }, { revokedAt: { gt: since } }] },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
  });
  return rows.map(({ id, name, scopes: held, createdAt, expiresAt, lastUsedAt, revokedAt }) => ({
    tokenId: id,
    name,
    scopes: known(held),
    createdAt,
    expiresAt,
    lastUsedAt,
    revokedAt,
    live: revokedAt === null && expiresAt > at,
  }));
}

/** Ends a token at once; twice is once. @throws NotFound for another person's. */
export async function revokeToken(
  { prisma, clock }: TokenDeps,
  personId: string,
  tokenId: string,
): Promise<void> {
  const id = knownId(tokenId, 'That token');
  const mine = await prisma.accessToken.findFirst({ where: { id, personId }, select: { revokedAt: true } });
  if (mine === null) throw new NotFound('That token');
  await prisma.accessToken.updateMany({ where: { id, revokedAt: null }, data: { revokedAt: clock() } });
}

/** Looks a token up on every request: revoked, expired or of a closed account, it is nobody's at once. */
export function tokenReader({ prisma, clock }: TokenDeps): ReadToken {
  return async (authorization) => {
    const token = tokenOf(authorization);
    if (token === null) return null;
    const row = await prisma.accessToken.findUnique({
      where: { tokenHash: hashToken(token) },
      include: { person: { select: { id: true, name: true, email: true, closedAt: true } } },
    });
    const at = clock();
    if (row === null) return null;
    if (row.revokedAt !== null || row.expiresAt <= at || row.person.closedAt !== null) return null;
    if (row.lastUsedAt === null || at.getTime() - row.lastUsedAt.getTime() >= MS_BETWEEN_USES) {
      await prisma.accessToken.updateMany({ where: { id: row.id }, data: { lastUsedAt: at } });
    }
    const { id: personId, name, email } = row.person;
    return {
      person: { personId, name, email: email ?? '', sessionId: '' },
      token: { tokenId: row.id, scopes: known(row.scopes) },
    };
  };
}
