import type { Clock } from '../../actor.ts';
import type { LetterState, PrismaClient } from '../../database/generated/client.ts';
import type { Carried, Carrier } from './carrier.ts';
import { BadAddress, prepare, type Prepared, type Sender, type Words } from './message.ts';

/** A row of the outbox, as far as its words need it. */
export interface LetterRow {
  readonly id: string;
  readonly kind: string;
  readonly personId: string | null;
  readonly subjectId: string | null;
  readonly toAddress: string;
}

export interface SendDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  readonly carrier: Carrier;
  readonly sender: Sender;
  /** The words of a letter; null where nobody is to have it any more. */
  readonly write: (row: LetterRow) => Promise<Words | null>;
  /** After this long a claim counts as left behind by a process that ended. Longer than any hand-over takes. */
  readonly leaseMs: number;
  /** Given up after so many. */
  readonly attempts: number;
}

export type Sent =
  /** Nothing more is to be done about it. */
  | { readonly is: 'settled'; readonly state: LetterState; readonly problem: string }
  /** To be tried again later. */
  | { readonly is: 'later'; readonly problem: string };

/**
 * Sends one letter, once.
 *
 * 1. Claim: `ready` → `claimed`, by one update that only one process wins. A claim older than the lease was left by a
 *    process that ended before anything left it, and is taken over.
 * 2. Right before the first byte: `claimed` → `handing_over`, by an update that fails where the claim was lost.
 * 3. The mail server's answer settles it.
 *
 * The one corner: a process that ends between 2 and 3 leaves it open whether the mail server has the letter. It is then
 * `unsure` and is *not* sent again by itself (at most once); the operator sees it and may send it again, with the same
 * Message-ID, by which a mail system that has it drops the second. Everywhere else it is sent exactly once.
 */
export async function sendLetter(deps: SendDeps, letterId: string): Promise<Sent> {
  const { prisma } = deps;
  const claim = await claimLetter(deps, letterId);
  if ('outcome' in claim) return claim.outcome;
  const { row, attempt } = claim;
  const settle = (state: LetterState, problem = ''): Promise<Sent> =>
    settleLetter(deps, letterId, attempt, state, problem);

  let prepared: Prepared;
  try {
    const words = await deps.write(row);
    if (words === null) return await settle('dropped');
    prepared = await prepare(letterId, words, deps.sender, deps.clock());
  } catch (error) {
    if (error instanceof BadAddress) return settle('failed', error.message);
    await settle('ready', 'It could not be written.');
    throw error;
  }

  let carried: Carried;
  try {
    carried = await deps.carrier.carry(prepared, async () => {
      const { count } = await prisma.letter.updateMany({
        where: { id: letterId, state: 'claimed', attempts: attempt },
        data: { state: 'handing_over', claimedAt: deps.clock() },
      });
      if (count !== 1) throw new Error('Another process has taken this letter over.');
    });
  } catch (error) {
    // Carriers answer; what they throw is a full disk and the like, and says nothing about what left.
    const after = await prisma.letter.findUnique({ where: { id: letterId }, select: { state: true } });
    await settle(after?.state === 'handing_over' ? 'unsure' : 'ready', 'It could not be handed over.');
    throw error;
  }
  if (carried.is === 'accepted') return settle('sent');
  if (carried.is === 'unsure') return settle('unsure', carried.problem);
  return settle(carried.forGood || attempt >= deps.attempts ? 'failed' : 'ready', carried.problem);
}

type Claim = { readonly row: LetterRow; readonly attempt: number } | { readonly outcome: Sent };

async function claimLetter({ prisma, clock, leaseMs }: SendDeps, letterId: string): Promise<Claim> {
  const now = clock();
  const expired = new Date(now.getTime() - leaseMs);
  const [claimed] = await prisma.letter.updateManyAndReturn({
    where: { id: letterId, OR: [{ state: 'ready' }, { state: 'claimed', claimedAt: { lt: expired } }] },
    data: { state: 'claimed', claimedAt: now, attempts: { increment: 1 } },
  });
  if (claimed !== undefined) return { row: claimed, attempt: claimed.attempts };
  const row = await prisma.letter.findUnique({ where: { id: letterId } });
  if (row === null) return { outcome: { is: 'settled', state: 'dropped', problem: '' } };
  if (row.state === 'handing_over' && row.claimedAt !== null && row.claimedAt < expired) {
    const problem = 'The process that was handing it over ended before the mail server’s answer was noted.';
    const lost = await prisma.letter.updateMany({
      where: { id: letterId, state: 'handing_over', attempts: row.attempts, claimedAt: { lt: expired } },
      data: { state: 'unsure', settledAt: now, problem },
    });
    if (lost.count === 1) return { outcome: { is: 'settled', state: 'unsure', problem } };
  }
  if (row.state === 'claimed' || row.state === 'handing_over') {
    return { outcome: { is: 'later', problem: 'Another process is sending it.' } };
  }
  return { outcome: { is: 'settled', state: row.state, problem: row.problem } };
}

async function settleLetter(
  { prisma, clock }: SendDeps,
  letterId: string,
  attempt: number,
  state: LetterState,
  problem: string,
): Promise<Sent> {
  await prisma.letter.updateMany({
    // Whoever was slow enough to be declared unsure may still say how it ended.
    where: { id: letterId, attempts: attempt, state: { in: ['claimed', 'handing_over', 'unsure'] } },
    data: { state, problem, settledAt: state === 'ready' ? null : clock() },
  });
  return state === 'ready' ? { is: 'later', problem } : { is: 'settled', state, problem };
}
