import { createHash } from 'node:crypto';
import type { Clock } from '../../actor.ts';
import type { PrismaClient, WebhookCallState } from '../../database/generated/client.ts';
import type { OutboxWork } from '../../notify/jobs/mail-jobs.ts';
import { roleMay } from '../../people/permissions.ts';
import { idsOf } from '../about.ts';
import { callOut, NotTaken, type Resolve } from './call-out.ts';
import type { WaysOut } from './rules.ts';
import { unseal } from '../../sealed.ts';
import { signedHeaders } from './sign.ts';

export const CALL_QUEUE = 'call-webhook';

export interface WebhookWorkDeps {
  readonly prisma: PrismaClient;
  readonly clock: Clock;
  /** Of the installation: what secrets of webhooks are sealed with. */
  readonly secret: string;
  readonly ways: WaysOut;
  readonly resolve?: Resolve;
  readonly told: (
    callId: string,
    said: { readonly state: WebhookCallState; readonly problem: string },
  ) => void;
}

export interface WebhookWorkOptions {
  /** Given up after so many in a round. */
  readonly attempts: number;
  /** After this long a claim counts as left behind by a process that ended. */
  readonly leaseMs: number;
}

const MOST_AT_ONCE = 500;

/** The id of the job for a round of a call: another one when somebody sends it again. */
function jobIdOf(callId: string, round: number): string {
  const hex = createHash('sha256').update(`${callId} ${round}`).digest('hex');
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `8${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-');
}

/**
 * The calls as work of the outbox. A call is made at least once: a process that ends between the receiver's answer and
 * our note of it leaves it to be made again, under the same id, by which the receiver knows it.
 */
export function webhookWork(deps: WebhookWorkDeps, options: WebhookWorkOptions): OutboxWork {
  return {
    queue: CALL_QUEUE,
    retryLimit: options.attempts * 4,
    async ready() {
      const rows = await deps.prisma.webhookCall.findMany({
        where: { state: { in: ['ready', 'claimed'] } },
        select: { id: true, round: true },
        orderBy: { createdAt: 'asc' },
        take: MOST_AT_ONCE,
      });
      return rows.map(({ id, round }) => ({ jobId: jobIdOf(id, round), rowId: id }));
    },
    work: (callId) => makeCall(deps, options, callId),
  };
}

type Done = Awaited<ReturnType<OutboxWork['work']>>;

async function makeCall(deps: WebhookWorkDeps, options: WebhookWorkOptions, callId: string): Promise<Done> {
  const { prisma, clock } = deps;
  const now = clock();
  const expired = new Date(now.getTime() - options.leaseMs);
  const { count } = await prisma.webhookCall.updateMany({
    where: { id: callId, OR: [{ state: 'ready' }, { state: 'claimed', claimedAt: { lt: expired } }] },
    data: { state: 'claimed', claimedAt: now, attempts: { increment: 1 } },
  });
  const call = await prisma.webhookCall.findUnique({ where: { id: callId }, include: { webhook: true } });
  if (call === null) return { is: 'settled' };
  if (count !== 1) {
    return call.state === 'claimed' || call.state === 'ready'
      ? { is: 'later', problem: 'Another process is making it.' }
      : { is: 'settled' };
  }
  const settle = async (state: WebhookCallState, problem = ''): Promise<Done> => {
    await prisma.webhookCall.updateMany({
      where: { id: callId, attempts: call.attempts, state: 'claimed' },
      data: { state, problem, settledAt: state === 'ready' ? null : clock() },
    });
    deps.told(callId, { state, problem });
    return state === 'ready' ? { is: 'later', problem } : { is: 'settled' };
  };
  if (!(await stillWanted(prisma, call.webhook))) return settle('dropped', 'The webhook had ended.');

  let secret: string;
  try {
    secret = unseal(call.webhook.sealedSecret, deps.secret, 'lintelbook webhook secrets');
  } catch {
    return settle('given_up', 'Its secret can’t be read any more; make the webhook anew.');
  }
  const again = (problem: string) =>
    settle(call.attempts >= options.attempts ? 'given_up' : 'ready', problem);
  try {
    const body = await bodyOf(prisma, call);
    const status = await callOut({
      url: call.webhook.url,
      headers: signedHeaders({ callId, body, secret, at: clock() }),
      body,
      ways: deps.ways,
      ...(deps.resolve === undefined ? {} : { resolve: deps.resolve }),
    });
    if (status >= 200 && status < 300) return await settle('taken');
    // "Gone" is a receiver's word for "do not come again" (RFC 9110, section 15.5.11).
    if (status === 410) return await settle('given_up', 'It answered 410: it is gone.');
    return await again(`It answered ${status}.`);
  } catch (error) {
    if (error instanceof NotTaken) return again(error.message);
    await settle('ready', 'It could not be made.');
    throw error;
  }
}

/** Has the webhook not ended, and is whoever made it still somebody who may? */
async function stillWanted(
  prisma: PrismaClient,
  webhook: { readonly endedAt: Date | null; readonly projectId: string; readonly madeById: string },
): Promise<boolean> {
  if (webhook.endedAt !== null) return false;
  const { projectId, madeById: personId } = webhook;
  const membership = await prisma.membership.findFirst({
    where: { projectId, personId, revokedAt: null, person: { closedAt: null } },
    select: { role: true },
  });
  return membership !== null && roleMay(membership.role, 'webhook.manage');
}

/** Ids and the kind of what happened. Whoever wants more reads it with a token of their own. */
async function bodyOf(
  prisma: PrismaClient,
  call: { readonly id: string; readonly projectId: string; readonly seq: number },
): Promise<string> {
  const { id, projectId, seq } = call;
  const event = await prisma.event.findFirstOrThrow({ where: { projectId, seq } });
  return JSON.stringify({
    id,
    kind: event.type,
    projectId,
    seq,
    at: event.at.toISOString(),
    about: idsOf(JSON.parse(event.payload)),
  });
}
