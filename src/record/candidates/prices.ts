import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { Invalid } from '../../problems.ts';
import type { RecordDeps } from '../use-case.ts';

/** Dollars and cents a foot; an empty box takes the piece off the list. */
const price = z
  .string()
  .trim()
  .regex(/^(\d{1,5}(\.\d{1,2})?)?$/, 'Type it as 4.85.')
  .transform((text) => (text === '' ? null : Math.round(Number(text) * 100)))
  .refine((cents) => cents !== 0, 'More than zero, or leave it empty.');

const MOST = 400;

/** A person’s own price list by `pieceKey`, dollars a foot of one ply. Nobody else’s is ever read. */
export async function pricesOf(
  deps: Pick<RecordDeps, 'prisma'>,
  { personId }: Pick<Actor, 'personId'>,
): Promise<Readonly<Record<string, number>>> {
  const rows = await deps.prisma.price.findMany({ where: { personId }, take: MOST });
  return Object.fromEntries(rows.map(({ piece, centsPerFoot }) => [piece, centsPerFoot / 100]));
}

/** Keeps what was typed beside each piece. @throws Invalid by piece, with nothing kept */
export async function keepPrices(
  deps: Pick<RecordDeps, 'prisma'>,
  { personId }: Pick<Actor, 'personId'>,
  typed: readonly { readonly piece: string; readonly text: string }[],
): Promise<void> {
  const problems: Record<string, string> = {};
  const read = typed.slice(0, MOST).map(({ piece, text }) => {
    const parsed = price.safeParse(text);
    if (!parsed.success) problems[piece] = parsed.error.issues[0]?.message ?? '';
    return { piece: piece.slice(0, 120), cents: parsed.data ?? null };
  });
  if (Object.keys(problems).length > 0) throw new Invalid(problems);
  await deps.prisma.$transaction(async (tx) => {
    await tx.price.deleteMany({ where: { personId, piece: { in: read.map(({ piece }) => piece) } } });
    await tx.price.createMany({
      data: read.flatMap(({ piece, cents }) =>
        cents === null ? [] : { personId, piece, centsPerFoot: cents },
      ),
    });
  });
}
