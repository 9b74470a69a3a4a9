import type { RecordedEvent, Transaction } from '../../record/events/append.ts';
import type { Facts } from '../rules/facts.ts';

/** The ids that payloads carry, whichever of them an event has. */
interface Named {
  readonly openingId?: string | null;
  readonly itemId?: string | null;
  readonly visitId?: string;
  readonly findingId?: string;
  readonly attachmentId?: string;
}

type Reader = Pick<Transaction, 'opening' | 'item' | 'visit' | 'finding' | 'attachmentLink'>;
type Happened = Pick<RecordedEvent, 'projectId' | 'actorName' | 'payload'>;

/** Looks up what a line needs beside its event: names of the opening, the item, the visit. One project's rows only. */
export async function factsOf(tx: Reader, { projectId, actorName, payload }: Happened): Promise<Facts> {
  const named = payload as Named;
  const item =
    named.itemId === undefined || named.itemId === null
      ? null
      : await tx.item.findFirst({
          where: { id: named.itemId, projectId },
          select: { id: true, title: true, openingId: true },
        });
  const visitId = named.visitId ?? (await visitOfFinding(tx, projectId, named.findingId));
  const visit =
    visitId === null
      ? null
      : await tx.visit.findFirst({
          where: { id: visitId, projectId },
          select: { kind: true, openingId: true },
        });
  const openingId =
    named.openingId ??
    item?.openingId ??
    visit?.openingId ??
    (await openingOfAttachment(tx, projectId, named.attachmentId));
  const opening =
    openingId === null
      ? null
      : await tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true, name: true } });
  return {
    projectId,
    actorName,
    openingId: opening?.id ?? null,
    openingName: opening?.name ?? '',
    itemId: item?.id ?? null,
    itemTitle: item?.title ?? '',
    visitKind: visit?.kind.replaceAll('_', ' ') ?? '',
  };
}

async function visitOfFinding(tx: Reader, projectId: string, findingId?: string): Promise<string | null> {
  if (findingId === undefined) return null;
  const finding = await tx.finding.findFirst({
    where: { id: findingId, projectId },
    select: { visitId: true },
  });
  return finding?.visitId ?? null;
}

async function openingOfAttachment(
  tx: Reader,
  projectId: string,
  attachmentId?: string,
): Promise<string | null> {
  if (attachmentId === undefined) return null;
  const link = await tx.attachmentLink.findFirst({
    where: { attachmentId, projectId, subject: 'opening' },
    select: { subjectId: true },
  });
  return link?.subjectId ?? null;
}
