import type { RecordedEvent, Transaction } from '../../record/events/append.ts';
import { weekdayWords } from '../../site/sequence/day.ts';
import { movesOfPlan } from '../../site/sequence/store.ts';
import type { Facts } from '../rules/facts.ts';

/** The ids that payloads carry, whichever of them an event has. */
interface Named {
  readonly openingId?: string | null;
  readonly itemId?: string | null;
  readonly visitId?: string;
  readonly findingId?: string;
  readonly attachmentId?: string;
  readonly versionId?: string;
  /** Of a plan of the order of work. */
  readonly number?: number;
}

type Reader = Pick<
  Transaction,
  'opening' | 'item' | 'visit' | 'finding' | 'attachmentLink' | 'sequencePlan' | 'version'
>;
type Happened = Pick<RecordedEvent, 'projectId' | 'actorName' | 'type' | 'payload'>;

/** Looks up what a line needs beside its event: names of the opening, the item, the visit. One project's rows only. */
export async function factsOf(tx: Reader, { projectId, actorName, type, payload }: Happened): Promise<Facts> {
  const named = payload as Named;
  const item =
    named.itemId === undefined || named.itemId === null
      ? null
      : await tx.item.findFirst({
          where: { id: named.itemId, projectId },
          select: { id: true, title: true, opening: { select: { id: true, name: true } } },
        });
  const visitId = named.visitId ?? (await visitOfFinding(tx, projectId, named.findingId));
  const visit =
    visitId === null
      ? null
      : await tx.visit.findFirst({
          where: { id: visitId, projectId },
          select: { kind: true, opening: { select: { id: true, name: true } } },
        });
  const opening =
    item?.opening ??
    visit?.opening ??
    (await openingCalled(
      tx,
      projectId,
      named.openingId ?? (await openingOfAttachment(tx, projectId, named.attachmentId)),
    ));
  const marked =
    type === 'version.marked' && named.versionId !== undefined
      ? await tx.version.findFirst({
          where: { id: named.versionId, item: { projectId } },
          select: { number: true },
        })
      : null;
  const moves =
    type === 'sequence.planned' && opening !== null && named.number !== undefined
      ? await movesOfPlan(tx, opening.id, named.number)
      : [];
  return {
    projectId,
    actorName,
    openingId: opening?.id ?? null,
    openingName: opening?.name ?? '',
    itemId: item?.id ?? null,
    itemTitle: item?.title ?? '',
    versionNumber: marked?.number ?? null,
    visitKind: visit?.kind.replaceAll('_', ' ') ?? '',
    movedDays: moves.map(({ plain, from, to }) =>
      to === ''
        ? `${plain}: no day yet; it was to be ${weekdayWords(from)}.`
        : `${plain}: now ${weekdayWords(to)}; it was to be ${weekdayWords(from)}.`,
    ),
  };
}

async function openingCalled(tx: Reader, projectId: string, openingId: string | null) {
  if (openingId === null) return null;
  return tx.opening.findFirst({ where: { id: openingId, projectId }, select: { id: true, name: true } });
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
