import type { Actor } from '../actor.ts';
import { attachmentsOf, type AttachmentView } from '../attachments/store.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import type { FindingOnCheck } from './status.ts';

/**
 * The photos of findings and of the answers to them, by the id of the finding or answer. Those of a finding that came
 * late hang on what the phone delivered, and are shown with the finding that it was placed as.
 */
export async function photosOfFindings(
  prisma: Pick<PrismaClient, '$queryRaw'>,
  { projectId, role }: Actor,
  findings: readonly FindingOnCheck[],
): Promise<Record<string, AttachmentView[]>> {
  const answerIds = findings.flatMap((finding) => finding.answers.map((answer) => answer.answerId));
  const findingIds = findings.map((finding) => finding.findingId);
  const placedAs = new Map(
    findings.flatMap(({ placedFromId, findingId }) =>
      placedFromId === undefined ? [] : [[placedFromId, findingId] as const],
    ),
  );
  const lists = await Promise.all([
    attachmentsOf(prisma, projectId, role, 'finding', findingIds),
    attachmentsOf(prisma, projectId, role, 'correction_answer', answerIds),
    attachmentsOf(prisma, projectId, role, 'phone_finding', [...placedAs.keys()]),
  ]);
  const photosBy: Record<string, AttachmentView[]> = {};
  for (const photo of lists.flat())
    (photosBy[placedAs.get(photo.subjectId) ?? photo.subjectId] ??= []).push(photo);
  return photosBy;
}
