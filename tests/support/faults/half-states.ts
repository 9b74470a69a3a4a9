import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { brokenFiles } from '../../../src/attachments/verify.ts';
import { verifyProject } from '../../../src/record/verify/verify.ts';
import type { Scene } from './scene.ts';

/** Each query finds what must not be there: the half of something whose other half is missing. */
const halves: Readonly<Record<string, string>> = {
  'a version without its event': `SELECT v.id::text FROM version v WHERE NOT EXISTS (
    SELECT 1 FROM event e WHERE e.project_id = v.project_id AND e.type = 'version.saved'
      AND e.payload::jsonb ->> 'versionId' = v.id::text)`,
  'a mark without its event': `SELECT m.id::text FROM mark m WHERE NOT EXISTS (
    SELECT 1 FROM event e WHERE e.project_id = m.project_id AND e.type = 'version.marked'
      AND e.payload::jsonb ->> 'markId' = m.id::text)`,
  'a set without its event': `SELECT s.id::text FROM approved_set s WHERE NOT EXISTS (
    SELECT 1 FROM event e WHERE e.project_id = s.project_id AND e.type = 'set.issued'
      AND e.payload::jsonb ->> 'setId' = s.id::text)`,
  'a set without its entries': `SELECT s.id::text FROM approved_set s
    WHERE (SELECT count(*) FROM set_entry n WHERE n.set_id = s.id) <> jsonb_array_length(s.content::jsonb -> 'entries')`,
  'a set without all of its checks': `SELECT s.id::text FROM approved_set s
    WHERE (SELECT count(*) FROM "check" c WHERE c.set_id = s.id) IS DISTINCT FROM (
      SELECT sum((e.payload::jsonb ->> 'checks')::int) FROM event e WHERE e.project_id = s.project_id
        AND e.type = 'checklist.produced' AND e.payload::jsonb ->> 'setId' = s.id::text)`,
  'a file that hangs on nothing': `SELECT a.id::text FROM attachment a
    WHERE NOT EXISTS (SELECT 1 FROM attachment_link l WHERE l.attachment_id = a.id)`,
  'a file without its event': `SELECT a.id::text FROM attachment a WHERE NOT EXISTS (
    SELECT 1 FROM event e WHERE e.project_id = a.project_id AND e.type = 'attachment.added'
      AND e.payload::jsonb ->> 'attachmentId' = a.id::text)`,
  'an upload that leads nowhere': `SELECT u.id::text FROM upload u WHERE u.attachment_id IS NOT NULL
    AND NOT EXISTS (SELECT 1 FROM attachment a WHERE a.id = u.attachment_id)`,
  'a phone’s finding without its finding': `SELECT p.id::text FROM phone_finding p
    WHERE p.finding_id IS NULL AND NOT EXISTS (SELECT 1 FROM visit_closing c WHERE c.visit_id = p.visit_id)`,
  'a phone’s photo that hangs on no finding': `SELECT r.photo_id::text FROM phone_photo_arrival r
    WHERE NOT EXISTS (SELECT 1 FROM attachment_link l WHERE l.attachment_id = r.attachment_id AND l.subject = 'finding')`,
  'an event that nobody was told of': `SELECT e.seq::text FROM event e
    WHERE e.type IN ('set.issued', 'version.marked')
      AND NOT EXISTS (SELECT 1 FROM news n WHERE n.project_id = e.project_id AND n.seq = e.seq)`,
  'an event that the address outside is not to be told of': `SELECT e.seq::text FROM event e
    JOIN webhook w ON w.project_id = e.project_id AND e.type = ANY(w.event_kinds)
    WHERE e.seq > (SELECT seq FROM event m WHERE m.project_id = e.project_id AND m.type = 'webhook.made')
      AND (SELECT count(*) FROM webhook_call c WHERE c.webhook_id = w.id AND c.seq = e.seq) <> 1`,
  'a letter that is settled and is not': `SELECT l.id::text FROM letter l
    WHERE (l.settled_at IS NULL) <> (l.state IN ('ready', 'claimed', 'handing_over'))`,
  'a letter about nothing': `SELECT l.id::text FROM letter l WHERE l.kind = 'news'
    AND NOT EXISTS (SELECT 1 FROM news n WHERE n.letter_id = l.id)`,
};

/** @returns a sentence for each half that is there; [] where everything is whole. */
export async function halfStates({ prisma }: Scene): Promise<string[]> {
  const found: string[] = [];
  for (const [what, sql] of Object.entries(halves)) {
    const rows = await prisma.$queryRawUnsafe<Record<string, string>[]>(sql);
    if (rows.length > 0) found.push(`${what}: ${rows.map((row) => Object.values(row)[0]).join(', ')}`);
  }
  return found;
}

/** Everything by its hash: the chain, every row that it names, every stored file. */
export async function brokenRecord({ prisma, deps, projectId }: Scene): Promise<string[]> {
  const found: string[] = [];
  const { broken } = await verifyProject(prisma, projectId);
  if (broken !== null) found.push(`the record: ${JSON.stringify(broken)}`);
  for await (const one of brokenFiles(prisma, deps.blobs, projectId)) {
    found.push(`a file: ${JSON.stringify(one)}`);
  }
  return found;
}

/** Files that killed uploads left behind; the sweep takes them after an hour. */
export async function leftovers(dataFolder: string): Promise<string[]> {
  return readdir(path.join(dataFolder, 'files', 'incoming')).catch(() => []);
}

/** What the mail server and the address outside got, held against what the record says of it. */
export async function wronglyTold(
  { prisma }: Scene,
  received: { readonly messageIds: readonly string[]; readonly callIds: readonly string[] },
): Promise<string[]> {
  const found: string[] = [];
  const letters = await prisma.letter.findMany({ select: { id: true, state: true } });
  const times = new Map<string, number>();
  for (const messageId of received.messageIds) {
    const id = messageId.slice(1, messageId.indexOf('@'));
    times.set(id, (times.get(id) ?? 0) + 1);
  }
  for (const { id, state } of letters) {
    const got = times.get(id) ?? 0;
    if (got > 1) found.push(`letter ${id} was sent ${got} times`);
    if (state === 'sent' && got === 0) found.push(`letter ${id} is said to be sent and is not`);
    // What is ready will be handed over: the mail server must not have it yet.
    if ((state === 'ready' || state === 'claimed') && got > 0)
      found.push(`letter ${id} is sent and will be again`);
  }
  const taken = await prisma.webhookCall.findMany({ where: { state: 'taken' }, select: { id: true } });
  const called = new Set(received.callIds);
  for (const { id } of taken)
    if (!called.has(id)) found.push(`call ${id} is said to be taken and never came`);
  return found;
}
