import type { Transaction } from '../events/append.ts';
import type { EventType } from '../events/payloads.ts';
import {
  attachmentDetailsHash,
  drawingWordsHash,
  type AttachmentDetails,
  type DrawingWords,
} from '../hash.ts';
import type { ChainedEvent } from './chain.ts';
import { eachWithRow, found, sameAsEvent, sameTime } from './compare.ts';
import { orderOfWorkTables } from './order-of-work-tables.ts';
import { Broken, breakIf } from './report.ts';

type Row = Readonly<Record<string, unknown>>;

/** A table of which every row was recorded by one event. */
export interface RecordedTable {
  readonly table: string;
  readonly types: readonly EventType[];
  /** The name of the row's id in the payload. */
  readonly idField: string;
  /** The column of that id. Default: `id`. */
  readonly idColumn?: string;
  /** Is a row without an event a break? An opening of a project as old as the program may have none. */
  readonly strays: boolean;
  /** What is compared; null where the table has a check of its own. */
  readonly compared: {
    readonly load: (tx: Transaction, ids: string[]) => Promise<readonly Row[]>;
    /** Who did it, in the row: the actor of the event. */
    readonly by?: string;
    /** When, in the row: the time of the event. */
    readonly at: string;
    /** What the event says of the row in another form than the columns do. */
    readonly derived?: (id: string, row: Row) => Row;
  } | null;
}

const where = (ids: string[]) => ({ where: { id: { in: ids } } });

/**
 * Every table of the record that only grows. Whoever adds one adds a line here: a test holds this list against the
 * tables that the database keeps from being changed.
 */
export const recordedTables: readonly RecordedTable[] = [
  { table: 'version', types: ['version.saved'], idField: 'versionId', strays: true, compared: null },
  { table: 'mark', types: ['version.marked'], idField: 'markId', strays: true, compared: null },
  {
    table: 'submission',
    types: ['versions.submitted'],
    idField: 'submissionId',
    strays: true,
    compared: null,
  },
  { table: 'approved_set', types: ['set.issued'], idField: 'setId', strays: true, compared: null },
  {
    table: 'opening',
    types: ['opening.created'],
    idField: 'openingId',
    strays: false,
    compared: { load: (tx, ids) => tx.opening.findMany(where(ids)), at: 'createdAt' },
  },
  {
    table: 'item',
    types: ['item.created'],
    idField: 'itemId',
    strays: true,
    compared: { load: (tx, ids) => tx.item.findMany(where(ids)), at: 'createdAt' },
  },
  {
    table: 'question',
    types: ['question.asked', 'question.answered', 'question.closed'],
    idField: 'questionId',
    strays: true,
    compared: { load: (tx, ids) => tx.question.findMany(where(ids)), at: 'at' },
  },
  // The lines of a checklist are checked as one (sets.ts), those that no event recorded among them.
  { table: 'check', types: ['checklist.produced'], idField: 'setId', strays: false, compared: null },
  {
    table: 'visit',
    types: ['visit.opened'],
    idField: 'visitId',
    strays: true,
    compared: { load: (tx, ids) => tx.visit.findMany(where(ids)), by: 'openedById', at: 'openedAt' },
  },
  {
    table: 'visit_closing',
    types: ['visit.closed'],
    idField: 'visitId',
    idColumn: 'visit_id',
    strays: true,
    compared: {
      load: async (tx, ids) => {
        const rows = await tx.visitClosing.findMany({ where: { visitId: { in: ids } } });
        return rows.map((row) => ({ ...row, id: row.visitId }));
      },
      by: 'closedById',
      at: 'closedAt',
    },
  },
  {
    table: 'finding',
    types: ['finding.recorded'],
    idField: 'findingId',
    strays: true,
    compared: { load: (tx, ids) => tx.finding.findMany(where(ids)), by: 'byId', at: 'receivedAt' },
  },
  {
    table: 'phone_finding',
    types: ['finding.delivered'],
    idField: 'phoneFindingId',
    strays: true,
    compared: {
      load: (tx, ids) =>
        tx.phoneFinding.findMany({ ...where(ids), include: { photos: { orderBy: { ordinal: 'asc' } } } }),
      by: 'byId',
      at: 'receivedAt',
      derived: (_id, row) => ({ photos: photosAsSaid(row) }),
    },
  },
  {
    table: 'phone_photo_arrival',
    types: ['photo.delivered'],
    idField: 'photoId',
    idColumn: 'photo_id',
    strays: true,
    compared: {
      load: async (tx, ids) => {
        const rows = await tx.phonePhotoArrival.findMany({ where: { photoId: { in: ids } } });
        return rows.map((row) => ({ ...row, id: row.photoId }));
      },
      at: 'at',
    },
  },
  {
    table: 'late_placing',
    types: ['late.placed', 'late.setAside'],
    idField: 'phoneFindingId',
    idColumn: 'phone_finding_id',
    strays: true,
    compared: {
      load: async (tx, ids) => {
        const rows = await tx.latePlacing.findMany({ where: { phoneFindingId: { in: ids } } });
        return rows.map((row) => ({ ...row, id: row.phoneFindingId }));
      },
      by: 'byId',
      at: 'at',
    },
  },
  {
    table: 'inspection_plan',
    types: ['inspections.planned'],
    idField: 'planId',
    strays: true,
    compared: { load: (tx, ids) => tx.inspectionPlan.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'hold_acceptance',
    types: ['hold.accepted'],
    idField: 'acceptanceId',
    strays: true,
    compared: { load: (tx, ids) => tx.holdAcceptance.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'correction_answer',
    types: ['correction.answered'],
    idField: 'answerId',
    strays: true,
    compared: {
      load: (tx, ids) => tx.correctionAnswer.findMany({ ...where(ids), include: { disturbed: true } }),
      by: 'byId',
      at: 'at',
      derived: (_id, row) => ({
        disturbs: (row.disturbed as readonly { readonly checkId: string }[]).map((one) => one.checkId).sort(),
      }),
    },
  },
  {
    table: 'visit_set_choice',
    types: ['visit.setChosen'],
    idField: 'choiceId',
    strays: true,
    compared: { load: (tx, ids) => tx.visitSetChoice.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'self_check',
    types: ['self_check.answered'],
    idField: 'selfCheckId',
    strays: true,
    compared: { load: (tx, ids) => tx.selfCheck.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'visit_call',
    types: ['visit.called'],
    idField: 'callId',
    strays: true,
    compared: { load: (tx, ids) => tx.visitCall.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'attachment',
    types: ['attachment.added'],
    idField: 'attachmentId',
    strays: true,
    compared: {
      load: (tx, ids) => tx.attachment.findMany({ ...where(ids), include: { links: true, pages: true } }),
      by: 'uploadedById',
      at: 'uploadedAt',
      derived: attachmentAsSaid,
    },
  },
  {
    table: 'owner_word',
    types: ['owner.said'],
    idField: 'ownerWordId',
    strays: true,
    compared: { load: (tx, ids) => tx.ownerWord.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'sheet_note',
    types: ['note.saved'],
    idField: 'sheetNoteId',
    strays: true,
    compared: { load: (tx, ids) => tx.sheetNote.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'service_act',
    types: ['service.acted'],
    idField: 'actId',
    strays: true,
    compared: { load: (tx, ids) => tx.serviceAct.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  ...orderOfWorkTables,
  {
    table: 'material_order',
    types: ['order.placed'],
    idField: 'orderId',
    strays: true,
    compared: { load: (tx, ids) => tx.materialOrder.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'delivery',
    types: ['delivery.received'],
    idField: 'deliveryId',
    strays: true,
    compared: { load: (tx, ids) => tx.delivery.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'delivery_line',
    types: ['delivery.matched', 'delivery.mismatched'],
    idField: 'deliveryLineId',
    strays: true,
    compared: { load: (tx, ids) => tx.deliveryLine.findMany(where(ids)), by: 'byId', at: 'at' },
  },
  {
    table: 'delivery_withdrawal',
    types: ['delivery.withdrawn'],
    idField: 'withdrawalId',
    strays: true,
    compared: { load: (tx, ids) => tx.deliveryWithdrawal.findMany(where(ids)), by: 'byId', at: 'at' },
  },
];

/** Tables whose rows are checked with the row that they belong to. */
export const checkedWithin: Readonly<Record<string, string>> = {
  submission_entry: 'submission',
  set_entry: 'approved_set',
  attachment_link: 'attachment',
  correction_disturbed: 'correction_answer',
  drawing_page: 'attachment',
  phone_photo: 'phone_finding',
  event: 'event',
};

/** Where an attachment hangs, and the hashes of its other columns and of its words. */
function attachmentAsSaid(id: string, row: Row): Row {
  const links = row.links as readonly {
    readonly subject: string;
    readonly subjectId: string;
    readonly part: string;
  }[];
  const [link] = links;
  if (link === undefined || links.length !== 1) {
    throw new Broken('attachment_link', id, `It hangs on ${links.length} things, and was attached to one.`);
  }
  return {
    subject: link.subject,
    subjectId: link.subjectId,
    part: link.part,
    detailsHash: attachmentDetailsHash(row as unknown as AttachmentDetails),
    textHash: drawingWordsHash(row.pages as readonly DrawingWords[]),
  };
}

/** The photos that a phone announced with a finding, in its order. */
function photosAsSaid(row: Row): unknown {
  const photos = row.photos as readonly { id: string; originalName: string; bytes: bigint }[];
  return photos.map(({ id, originalName, bytes }) => ({ photoId: id, originalName, bytes: Number(bytes) }));
}

/** The rows that these events recorded, of every table of the list that has no check of its own. */
export async function checkTables(tx: Transaction, events: readonly ChainedEvent[]): Promise<void> {
  for (const { table, types, idField, compared } of recordedTables) {
    const wanted: readonly string[] = types;
    if (compared === null) continue;
    const { load, by, at, derived } = compared;
    const payloadOf = (event: ChainedEvent) => event.payload as Readonly<Record<string, unknown>>;
    await eachWithRow(
      events.filter((event) => wanted.includes(event.type)),
      (event) => String(payloadOf(event)[idField]),
      async (ids) => new Map((await load(tx, ids)).map((row) => [String(row.id), row])),
      (event, id, there) => {
        const row = found(there, table, id, event.seq);
        const kept = { ...row, ...derived?.(id, row), [idField]: id };
        sameAsEvent(table, id, event.seq, kept, payloadOf(event));
        sameTime(table, id, event, row[at] as Date);
        breakIf(
          by !== undefined && row[by] !== event.actorId,
          table,
          id,
          `Its ${by ?? ''} is not the person of event ${event.seq}.`,
        );
      },
    );
  }
}
