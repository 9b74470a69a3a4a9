import { randomBytes } from 'node:crypto';
import { compose } from '../../../src/web/compose.ts';
import { createToken } from '../../../src/api/tokens/service.ts';
import { scopes } from '../../../src/api/tokens/scopes.ts';
import { makeWebhook } from '../../../src/api/webhooks/service.ts';
import type { TellableKind } from '../../../src/api/webhooks/rules.ts';
import type { PrismaClient } from '../../../src/database/generated/client.ts';
import { demoPassword, demoSignIns } from '../../../src/demo/people.ts';
import { readConfig } from '../../../src/web/config.ts';
import type { Deps } from '../../../src/web/deps.ts';
import { testPhoto } from '../test-files.ts';
import { Visitor } from '../visitor.ts';
import type { Ledger } from './ledger.ts';

type Role = (typeof demoSignIns)[number]['role'];

/** The demo's house under fault: its people signed in, a set issued, a visit open, an address that is told. */
export interface Scene {
  readonly base: string;
  /** Past the line that is cut: what the record says, whatever happens to the service. */
  readonly prisma: PrismaClient;
  readonly deps: Deps;
  readonly ledger: Ledger;
  readonly people: Readonly<Record<Role, Visitor>>;
  readonly tokens: { readonly contractor: string; readonly engineer: string };
  readonly projectId: string;
  readonly openingId: string;
  readonly inProject: string;
  readonly inOpening: string;
  readonly visitId: string;
  readonly checkIds: readonly string[];
  /** The item whose approval is said and taken back. */
  readonly markedItemId: string;
  /** The row of services that gets version after version, and its owner's draft. */
  readonly savedItemId: string;
  readonly openingPage: string;
  readonly formTokens: { readonly contractor: string; readonly inspector: string };
}

/** Kinds of events of which the receiver outside is told. */
export const toldKinds: readonly TellableKind[] = ['version.saved', 'version.marked', 'set.issued'];

export async function setScene(
  base: string,
  prisma: PrismaClient,
  ledger: Ledger,
  environment: Readonly<Record<string, string>>,
  receiverUrl: string,
): Promise<Scene> {
  const config = readConfig({ NODE_ENV: 'development', ...environment });
  const deps = compose(config, prisma);
  const project = await prisma.project.findFirstOrThrow();
  const opening = await prisma.opening.findFirstOrThrow({ where: { projectId: project.id } });
  const inProject = `/projects/${project.id}`;
  const inOpening = `${inProject}/openings/${opening.id}`;
  const people = Object.fromEntries(
    await Promise.all(
      demoSignIns.map(async ({ role, email }) => [role, await signedIn(base, email)] as const),
    ),
  ) as Record<Role, Visitor>;
  const tokenOf = async (role: Role) => {
    const member = await prisma.membership.findFirstOrThrow({ where: { projectId: project.id, role } });
    return (await createToken(deps, member.personId, { name: 'Faults', scopes, days: 30 })).token;
  };
  const tokens = { contractor: await tokenOf('contractor'), engineer: await tokenOf('engineer') };

  const items = await prisma.item.findMany({
    where: { openingId: opening.id, kind: { notIn: ['criteria', 'survey', 'service'] } },
    orderBy: { createdAt: 'asc' },
  });
  for (const item of items) {
    const page = await people.engineer.page(`${base}${inProject}/items/${item.id}`);
    expectStatus(
      await people.engineer.submit(base, page, /\/marks$/, { word: 'approved', reason: 'Looked at' }),
      303,
    );
  }
  const preview = await people.engineer.page(`${base}${inOpening}/sets/new`);
  expectStatus(await people.engineer.submit(base, preview, /\/sets$/, confirmed(preview)), 303);
  const checklist = await people.inspector.page(`${base}${inOpening}/checklist`);
  expectStatus(await people.inspector.submit(base, checklist, /\/visits$/), 303);
  const visit = await prisma.visit.findFirstOrThrow();
  const checks = await prisma.check.findMany({ where: { setId: visit.setId, visitKind: visit.kind } });
  const { personId, role } = await prisma.membership.findFirstOrThrow({
    where: { projectId: project.id, role: 'contractor' },
  });
  await makeWebhook(
    { ...deps, ways: { plainHttp: true, privateAddresses: true }, secret: environment.COOKIE_SECRET ?? '' },
    { projectId: project.id, personId, role, name: 'R. T.' },
    { url: receiverUrl, kinds: toldKinds },
  );
  const saved = await prisma.item.findFirstOrThrow({ where: { openingId: opening.id, kind: 'service' } });
  const openingPage = await people.contractor.page(`${base}${inOpening}`);
  const kept = await people.inspector.get(`${base}${inProject}/visits/${visit.id}/kept`);
  const { csrfToken } = (await kept.json()) as { csrfToken: string };
  return {
    base,
    prisma,
    deps,
    ledger,
    people,
    tokens,
    projectId: project.id,
    openingId: opening.id,
    inProject,
    inOpening,
    visitId: visit.id,
    checkIds: checks.map(({ id }) => id),
    markedItemId: items.at(-1)?.id ?? '',
    savedItemId: saved.id,
    openingPage,
    formTokens: {
      contractor: /name="_csrf" value="([^"]+)"/.exec(openingPage)?.[1] ?? '',
      inspector: csrfToken,
    },
  };
}

async function signedIn(base: string, email: string): Promise<Visitor> {
  const visitor = new Visitor();
  const page = await visitor.page(`${base}/sign-in`);
  expectStatus(await visitor.submit(base, page, /^\/sign-in$/, { email, password: demoPassword }), 303);
  return visitor;
}

function expectStatus(answer: Response, status: number): void {
  if (answer.status !== status) throw new Error(`${answer.url} answered ${answer.status}, not ${status}`);
}

/** The open questions of a set's page, each ticked. */
export function confirmed(page: string): Record<string, string> {
  return Object.fromEntries(
    [...page.matchAll(/name="(question\.[^"]+)"/g)].map(([, name = '']) => [name, 'yes']),
  );
}

let plain: Promise<Buffer> | undefined;

/** A photo that no other is: a comment segment of its own (COM, ISO/IEC 10918-1 B.2.4.5) in an ordinary JPEG. */
export async function ownPhoto(): Promise<Buffer> {
  plain ??= testPhoto(60).then(({ buffer }) => buffer);
  const jpeg = await plain;
  const comment = randomBytes(24);
  const segment = Buffer.from([0xff, 0xfe, 0, comment.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), segment, comment, jpeg.subarray(2)]);
}
