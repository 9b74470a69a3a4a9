import { UNTOLD_ZONE } from '../../house-time.ts';

/** A table as the package carries it: whole rows of one project, in an order that never changes. */
export interface PackedTable {
  readonly table: string;
  /** Columns of its key: rows are in their order. */
  readonly key: readonly string[];
  /** SQL that is true for the rows of project $1. Default: its own project_id. */
  readonly of?: string;
  /** What of it is taken. Default: every column. */
  readonly columns?: readonly string[];
  /** What a package that is older than a column stands for there. */
  readonly before?: Readonly<Record<string, string>>;
}

const whole = (table: string, ...key: string[]): PackedTable => ({
  table,
  key: key.length > 0 ? key : ['id'],
});

/** In an order in which each row comes after those that it points to. */
export const packedTables: readonly PackedTable[] = [
  // Persons by id and name only, as on the record: no address, no way in.
  {
    table: 'person',
    key: ['id'],
    of: 'id IN (SELECT person_id FROM membership WHERE project_id = $1)',
    columns: ['id', 'name'],
  },
  { table: 'project', key: ['id'], of: 'id = $1', before: { time_zone: UNTOLD_ZONE } },
  whole('membership'),
  whole('opening'),
  whole('item'),
  whole('version'),
  whole('submission'),
  {
    table: 'submission_entry',
    key: ['submission_id', 'version_id'],
    of: 'submission_id IN (SELECT id FROM submission WHERE project_id = $1)',
  },
  whole('mark'),
  whole('approved_set'),
  {
    table: 'set_entry',
    key: ['set_id', 'item_id'],
    of: 'set_id IN (SELECT id FROM approved_set WHERE project_id = $1)',
  },
  whole('question'),
  whole('inspection_plan'),
  whole('check'),
  whole('visit'),
  whole('visit_closing', 'visit_id'),
  whole('attachment'),
  whole('attachment_link', 'attachment_id', 'subject', 'subject_id'),
  whole('drawing_page', 'attachment_id', 'page'),
  whole('sheet_note'),
  whole('finding'),
  whole('correction_answer'),
  {
    table: 'correction_disturbed',
    key: ['answer_id', 'check_id'],
    of: 'answer_id IN (SELECT id FROM correction_answer WHERE project_id = $1)',
  },
  whole('visit_set_choice'),
  whole('self_check'),
  whole('visit_call'),
  whole('phone_finding'),
  whole('phone_photo'),
  whole('phone_photo_arrival', 'photo_id'),
  whole('late_placing', 'phone_finding_id'),
  whole('hold_acceptance'),
  whole('material_order'),
  whole('delivery'),
  whole('delivery_line'),
  whole('delivery_withdrawal'),
  whole('service_act'),
  whole('sequence_plan'),
  whole('work_entry'),
  whole('work_withdrawal'),
  whole('salvage_line'),
  whole('salvage_word'),
  whole('owner_word'),
  whole('event', 'seq'),
];

/** Tables with rows of a project, or of a person, that stay behind, each with the reason. */
export const leftBehind: Readonly<Record<string, string>> = {
  invitation: 'lets somebody in',
  family_link: 'lets somebody in',
  webhook: 'holds a secret of this installation',
  webhook_call: 'belongs to the webhooks of this installation',
  upload: 'not whole yet: no part of the record',
  news: 'the post of this installation; what it tells of is in the log',
  letter: 'the post of this installation',
  draft: 'one person’s unsaved words',
  price: 'one person’s own figures',
  session: 'lets somebody in',
  second_factor: 'lets somebody in',
  recovery_code: 'lets somebody in',
  begun_sign_in: 'lets somebody in',
  access_token: 'lets somebody in',
  calendar_address: 'lets somebody in',
  password_reset: 'lets somebody in',
  kept_form: 'one person’s unsaved words',
  sign_in_attempt: 'says nothing of a project',
};

/** The statement that reads the rows of one project ($1), each as one JSON object. */
export function selectOf({ table, key, of, columns }: PackedTable): string {
  const taken = columns === undefined ? '*' : columns.map((column) => `"${column}"`).join(', ');
  const order = key.map((column) => `"${column}"`).join(', ');
  return `SELECT row_to_json(kept)::text AS row FROM (
    SELECT ${taken} FROM "${table}" WHERE ${of ?? 'project_id = $1'} ORDER BY ${order}) kept`;
}
