import { z } from 'zod';
import type { AttachmentSubject } from '../database/generated/client.ts';
import type { Transaction } from '../record/events/append.ts';
import type { UseCase } from '../record/use-case.ts';
import { findItem, newestVersion } from '../record/versions/store.ts';

export interface Subject {
  /** Is there such a row in this project? Asked inside the transaction that attaches. */
  readonly isHere: (tx: Transaction, projectId: string, id: string) => Promise<boolean>;
  /**
   * Files are added by the form of `templates/parts/attachments.njk` and in pieces. False where they come with a row
   * that is never changed once it is there (a finding and its photo are one act): those attach by `recordAttachments`
   * in their own use case.
   */
  readonly byForm: boolean;
}

/**
 * All that a file can be attached to. A new kind of row: its name into the enum `attachment_subject` (schema and
 * migration), a line here, and `attachmentsOf` and the upload form on its page; nothing else knows the kinds.
 */
export const subjects: Readonly<Record<AttachmentSubject, Subject>> = {
  project: { byForm: true, isHere: async (_tx, projectId, id) => id === projectId },
  opening: {
    byForm: true,
    isHere: (tx, projectId, id) => some(tx.opening.count({ where: { id, projectId } })),
  },
  item: { byForm: true, isHere: (tx, projectId, id) => some(tx.item.count({ where: { id, projectId } })) },
  version: {
    byForm: true,
    isHere: (tx, projectId, id) => some(tx.version.count({ where: { id, projectId } })),
  },
  question: {
    byForm: true,
    isHere: (tx, projectId, id) => some(tx.question.count({ where: { id, projectId } })),
  },
  finding: {
    byForm: false,
    isHere: (tx, projectId, id) => some(tx.finding.count({ where: { id, projectId } })),
  },
  correction_answer: {
    byForm: false,
    isHere: (tx, projectId, id) => some(tx.correctionAnswer.count({ where: { id, projectId } })),
  },
  phone_finding: {
    byForm: false,
    isHere: (tx, projectId, id) => some(tx.phoneFinding.count({ where: { id, projectId } })),
  },
  delivery_line: {
    byForm: false,
    isHere: (tx, projectId, id) => some(tx.deliveryLine.count({ where: { id, projectId } })),
  },
  work_entry: {
    byForm: true,
    isHere: (tx, projectId, id) => some(tx.workEntry.count({ where: { id, projectId } })),
  },
  salvage_line: {
    byForm: true,
    isHere: (tx, projectId, id) => some(tx.salvageLine.count({ where: { id, projectId } })),
  },
};

/** A name as surveys give it to their observations; '' for the whole item. */
export const observationName = z
  .string()
  .regex(/^([a-z0-9][a-z0-9-]{0,30})?$/)
  .default('');

/** Does the newest version of the item have an observation of that name? */
export async function hasObservation(
  { tx, kinds, actor }: UseCase,
  { subject, subjectId }: { readonly subject: AttachmentSubject; readonly subjectId: string },
  name: string,
): Promise<boolean> {
  if (subject !== 'item') return false;
  const item = await findItem(tx, actor.projectId, subjectId);
  const newest = item === null ? null : await newestVersion(tx, subjectId);
  if (item === null || newest === null) return false;
  const observations = kinds.get(item.kind).observations?.(newest.content) ?? [];
  return observations.some(({ id }) => id === name);
}

/** The subjects that the upload form may name. */
export const formSubjects = (Object.keys(subjects) as AttachmentSubject[]).filter(
  (name) => subjects[name].byForm,
);

/**
 * A form with a choice of what its files belong to names it in one box, as 'version <id>', or 'item <id> <observation>'.
 */
export function withChosenSubject(
  fields: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  const [subject = '', subjectId = '', part = ''] = (fields.belongsTo ?? '').split(' ');
  return subject === '' ? fields : { ...fields, subject, subjectId, part };
}

async function some(count: Promise<number>): Promise<boolean> {
  return (await count) > 0;
}
