import { randomBytes, randomUUID } from 'node:crypto';
import type { Actor } from '../../actor.ts';
import type { Prisma } from '../../database/generated/client.ts';
import { inTransaction } from '../../database/retry.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { asMember, asPresentMember, useCase, type RecordDeps } from '../../record/use-case.ts';
import { addressProblem, tellableKinds, type TellableKind, type WaysOut } from './rules.ts';
import { seal } from '../../sealed.ts';

const MOST = 10;
const CALLS_SHOWN = 20;

export interface WebhookLine {
  readonly webhookId: string;
  readonly url: string;
  readonly kinds: readonly string[];
  readonly madeByName: string;
  readonly madeAt: Date;
  readonly calls: readonly {
    readonly callId: string;
    readonly seq: number;
    readonly kind: string;
    readonly state: string;
    readonly attempts: number;
    readonly problem: string;
    readonly createdAt: Date;
  }[];
}

/**
 * Has an address told of what happens in the project. The secret by which calls are signed is in the answer, and shown
 * nowhere again.
 *
 * @throws Invalid at the fields. @throws Refused where the project has as many as it may.
 */
export async function makeWebhook(
  deps: RecordDeps & { readonly ways: WaysOut; readonly secret: string },
  actor: Actor,
  input: { readonly url: string; readonly kinds: readonly TellableKind[] },
): Promise<{ readonly webhookId: string; readonly secret: string }> {
  const url = input.url.trim();
  const problem = addressProblem(url, deps.ways);
  if (problem !== null) throw new Invalid({ url: problem });
  if (input.kinds.length === 0) throw new Invalid({ kinds: 'Choose what it is told of.' });
  const secret = randomBytes(32).toString('base64url');
  return useCase(deps, actor, 'webhook.manage', async ({ tx, actor: present, at, append }) => {
    const { projectId, personId } = present;
    const live = await tx.webhook.count({ where: { projectId, endedAt: null } });
    if (live >= MOST)
      throw new Refused(`The project has ${live} webhooks; end one that nothing needs any more.`);
    const webhookId = randomUUID();
    const kinds = [...input.kinds];
    await tx.webhook.create({
      data: {
        id: webhookId,
        projectId,
        url,
        eventKinds: kinds,
        sealedSecret: seal(secret, deps.secret, 'lintelbook webhook secrets'),
        madeById: personId,
        madeAt: at,
      },
      select: { id: true },
    });
    await append('webhook.made', { webhookId, host: new URL(url).host, kinds });
    return { webhookId, secret };
  });
}

/** Ends it: nothing more is told, what waits is dropped. @throws NotFound where the project has no such one. */
export async function endWebhook(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly webhookId: string },
): Promise<void> {
  const id = knownId(input.webhookId, 'That webhook');
  await useCase(deps, actor, 'webhook.manage', async ({ tx, actor: present, at, append }) => {
    const { count } = await tx.webhook.updateMany({
      where: { id, projectId: present.projectId, endedAt: null },
      data: { endedAt: at },
    });
    if (count === 0) throw new NotFound('That webhook');
    await append('webhook.ended', { webhookId: id });
  });
}

/** Makes a call that was given up once more, under its own id. @throws NotFound. @throws Refused where it was not. */
export async function sendCallAgain(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly callId: string },
): Promise<void> {
  const id = knownId(input.callId, 'That call');
  await asPresentMember(deps, actor, 'webhook.manage', async (reader, { projectId }) => {
    const call = await reader.webhookCall.findFirst({
      where: { id, projectId, webhook: { endedAt: null } },
      select: { id: true },
    });
    if (call === null) throw new NotFound('That call');
  });
  await inTransaction(deps.prisma, async (tx) => {
    const { count } = await tx.webhookCall.updateMany({
      where: { id, state: 'given_up' },
      data: { state: 'ready', attempts: 0, round: { increment: 1 }, settledAt: null, problem: '' },
    });
    if (count === 0) throw new Refused('That call is under way or was taken.');
    await tx.$executeRaw`SELECT pg_notify('lintelbook_outbox', 'webhook_call')`;
  });
}

/** The project's webhooks with their latest calls, those given up first. */
export async function listWebhooks(deps: RecordDeps, actor: Actor): Promise<WebhookLine[]> {
  return asMember(deps, actor, 'webhook.manage', async (tx, { projectId }) => {
    const rows = await tx.webhook.findMany({
      where: { projectId, endedAt: null },
      orderBy: { madeAt: 'asc' },
      include: {
        madeBy: { select: { name: true } },
      },
    });
    const latest = async (webhookId: string, where: Prisma.WebhookCallWhereInput) =>
      tx.webhookCall.findMany({
        where: { webhookId, ...where },
        orderBy: { seq: 'desc' },
        take: CALLS_SHOWN,
      });
    const callsOf = new Map<string, Prisma.WebhookCallGetPayload<object>[]>();
    for (const { id } of rows) {
      const givenUp = await latest(id, { state: 'given_up' });
      callsOf.set(id, [...givenUp, ...(await latest(id, { state: { not: 'given_up' } }))]);
    }
    const seqs = [...callsOf.values()].flat().map((call) => call.seq);
    const events = await tx.event.findMany({
      where: { projectId, seq: { in: seqs } },
      select: { seq: true, type: true },
    });
    const kindOf = new Map(events.map(({ seq, type }) => [seq, type]));
    return rows.map(({ id, url, eventKinds, madeBy, madeAt }) => ({
      webhookId: id,
      url,
      kinds: eventKinds.map((kind) => (tellableKinds as Record<string, string>)[kind] ?? kind),
      madeByName: madeBy.name,
      madeAt,
      calls: (callsOf.get(id) ?? []).map(({ id: callId, seq, state, attempts, problem, createdAt }) => {
        const kind = kindOf.get(seq) ?? '';
        return { callId, seq, kind, state, attempts, problem, createdAt };
      }),
    }));
  });
}
