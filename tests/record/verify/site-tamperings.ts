import { sha256Hex } from '../../../src/record/canonical.ts';

/** One change by raw SQL to what was recorded on site or with a file, and how it must come out. */
export interface SiteTampering {
  readonly what: string;
  /** The table whose guards are taken off for a moment. */
  readonly table: string;
  readonly sql: string;
  readonly sentence: RegExp;
  /** The table where it shows first, where that is another one. */
  readonly shows?: string;
}

export const change = (
  table: string,
  set: string,
  where: string,
  what: string,
  sentence: RegExp,
): SiteTampering => ({
  what,
  table,
  sql: `UPDATE "${table}" SET ${set} WHERE ${where}`,
  sentence,
});
const stray = /^No event recorded it\.$/;
export const gone = /and it is gone/;
/** Everything there belongs to the one project of the test's own database. */
export const all = 'true';
const person = "(SELECT id FROM person WHERE name = 'Ow Ner')";

export const siteTamperings: readonly SiteTampering[] = [
  change('service_act', "word = 'checked'", all, 'what was done with a circuit', /word is not what event/),
  change('service_act', "who = 'nobody'", all, 'who did it', /who is not what event/),
  change('service_act', `by_id = ${person}`, all, 'who logged it', /byId is not the person/),
  {
    what: 'an act slipped in past the program',
    table: 'service_act',
    sql: `INSERT INTO service_act (project_id, item_id, version_id, number, word, who, note, by_id)
          SELECT project_id, item_id, version_id, 77, 'checked', who, '', by_id FROM service_act LIMIT 1`,
    sentence: stray,
  },
  {
    what: 'what a correction disturbed',
    table: 'correction_disturbed',
    sql: 'DELETE FROM correction_disturbed',
    sentence: /disturbs is not what event/,
    shows: 'correction_answer',
  },
  change('visit_set_choice', 'goes_on = true', all, 'which set a visit went on with', /goesOn is not what/),
  change('visit_set_choice', `by_id = ${person}`, all, 'who chose the set', /byId is not the person/),
  {
    what: 'a choice of a set slipped in past the program',
    table: 'visit_set_choice',
    sql: `INSERT INTO visit_set_choice (project_id, visit_id, set_id, goes_on, by_id)
          SELECT project_id, visit_id, set_id, true, by_id FROM visit_set_choice LIMIT 1`,
    sentence: stray,
  },
  change('self_check', "word = 'ready'", all, 'the contractor’s own look', /word is not what event/),
  change('self_check', "note = ''", all, 'the note to an own look', /note is not what event/),
  {
    what: 'an own look slipped in past the program',
    table: 'self_check',
    sql: `INSERT INTO self_check (project_id, check_id, word, by_id)
          SELECT project_id, check_id, 'ready', by_id FROM self_check LIMIT 1`,
    sentence: stray,
  },
  change('visit_call', "shared = ''", all, 'what a call showed', /shared is not what event/),
  {
    what: 'a call slipped in past the program',
    table: 'visit_call',
    sql: `INSERT INTO visit_call (project_id, opening_id, set_id, visit_key, by_id)
          SELECT project_id, opening_id, set_id, visit_key, by_id FROM visit_call LIMIT 1`,
    sentence: stray,
  },
  change('visit', "kind = 'cover'", "kind = 'framing'", 'the kind of a visit', /kind is not what event/),
  change('visit', `opened_by_id = ${person}`, all, 'who opened a visit', /openedById is not the person/),
  change(
    'visit',
    "opened_at = opened_at - interval '1 day'",
    all,
    'when a visit was opened',
    /Its time is not/,
  ),
  {
    what: 'a visit slipped in past the program',
    table: 'visit',
    sql: `INSERT INTO visit (project_id, opening_id, set_id, number, kind, opened_by_id)
          SELECT project_id, opening_id, set_id, 77, 'final', opened_by_id FROM visit LIMIT 1`,
    sentence: stray,
  },
  change('visit_closing', "outcome = 'passed'", all, 'the outcome of a visit', /outcome is not what event/),
  change('visit_closing', "summary = ''", all, 'the summary of a visit', /summary is not what event/),
  change('visit_closing', "signed_name = 'S. L.'", all, 'who signed a visit', /signedName is not what event/),
  change(
    'visit_closing',
    `closed_by_id = ${person}`,
    all,
    'who closed a visit',
    /closedById is not the person/,
  ),
  change(
    'visit_closing',
    "closed_at = closed_at + interval '1 s'",
    all,
    'when a visit was closed',
    /Its time is/,
  ),
  {
    what: 'a removed closing: the visit would be open again',
    table: 'visit_closing',
    sql: 'DELETE FROM visit_closing',
    sentence: gone,
  },
  {
    what: 'a closing slipped in past the program',
    table: 'visit_closing',
    sql: `INSERT INTO visit_closing (visit_id, project_id, outcome, portion, summary, signed_name, closed_by_id)
          SELECT id, project_id, 'passed', '', '', 'In Spector', opened_by_id FROM visit
          WHERE id NOT IN (SELECT visit_id FROM visit_closing) LIMIT 1`,
    sentence: stray,
  },
  change(
    'finding',
    "result = 'pass'",
    "result = 'correction'",
    'a correction into a pass',
    /result is not what/,
  ),
  change(
    'finding',
    "reason = 'none'",
    "result = 'correction'",
    'the reason of a correction',
    /reason is not what/,
  ),
  change('finding', "location = 'right end'", all, 'the place of a finding', /location is not what event/),
  change(
    'finding',
    "at = at - interval '1 day'",
    all,
    'when something was found',
    /Its at is not what event/,
  ),
  change('finding', "received_at = received_at + interval '1 s'", all, 'when it arrived', /Its time is not/),
  change('finding', `by_id = ${person}`, all, 'who found it', /byId is not the person of event/),
  change(
    'finding',
    "client_key = client_key || 'x'",
    all,
    'the key of its form',
    /clientKey is not what event/,
  ),
  {
    what: 'a finding moved to another check',
    table: 'finding',
    sql: `UPDATE finding SET check_id = (SELECT c.id FROM "check" c WHERE c.id <> finding.check_id LIMIT 1)`,
    sentence: /checkId is not what event/,
  },
  {
    what: 'a removed finding',
    table: 'finding',
    sql: "DELETE FROM finding WHERE result = 'pass'",
    sentence: gone,
  },
  {
    what: 'a finding slipped in past the program',
    table: 'finding',
    sql: `INSERT INTO finding (project_id, visit_id, check_id, client_key, result, reason, by_id, at)
          SELECT project_id, visit_id, check_id, 'slipped-in', 'pass', '', by_id, now() FROM finding LIMIT 1`,
    sentence: stray,
  },
  change('inspection_plan', "words = 'nothing'", all, 'what a plan changed', /words is not what event/),
  change('inspection_plan', "content = '{}'", all, 'a plan of inspections', /content is not what event/),
  change('hold_acceptance', "basis = 'none'", all, 'why a step was accepted', /basis is not what event/),
  change(
    'hold_acceptance',
    `by_id = ${person}`,
    all,
    'who accepted a step',
    /byId is not the person of event/,
  ),
  change(
    'correction_answer',
    "note = 'left as it is'",
    all,
    'the answer to a correction',
    /note is not what event/,
  ),
  change('correction_answer', `by_id = ${person}`, all, 'who answered', /byId is not the person of event/),
  change('correction_answer', "at = at + interval '1 s'", all, 'when it was answered', /Its time is not/),
  {
    what: 'an answer slipped in past the program',
    table: 'correction_answer',
    sql: `INSERT INTO correction_answer (project_id, finding_id, note, by_id)
          SELECT project_id, finding_id, 'done', by_id FROM correction_answer LIMIT 1`,
    sentence: stray,
  },
  change(
    'check',
    "criterion = replace(criterion, '3', '2')",
    "criterion LIKE '%3%'",
    'the criterion of a check',
    /checklist of this set does not have the hash/,
  ),
  change('check', "hold_point = ''", "hold_point <> ''", 'what a check holds back', /does not have the hash/),
  change(
    'check',
    'photo_required = false',
    'photo_required',
    'that a photo is wanted',
    /does not have the hash/,
  ),
  {
    what: 'the order of the checks',
    table: 'check',
    sql: `UPDATE "check" SET ordinal = 1 - ordinal + (SELECT count(*) FROM "check" other WHERE other.set_id = "check".set_id)`,
    sentence: /does not have the hash/,
  },
  {
    what: 'a removed check',
    table: 'check',
    sql: 'DELETE FROM "check" WHERE id NOT IN (SELECT check_id FROM finding)',
    sentence: /has \d+ checks, and event \d+ recorded \d+/,
  },
  {
    what: 'a check slipped in at the end of a list',
    table: 'check',
    sql: `INSERT INTO "check" (project_id, set_id, version_id, key, ordinal, visit_kind, title, criterion, clause,
                              how_to_look, photo_required)
          SELECT project_id, set_id, version_id, 'x', 9999, visit_kind, title, criterion, clause, how_to_look,
                 false FROM "check" LIMIT 1`,
    sentence: stray,
  },
  {
    what: 'a check slipped in between',
    table: 'check',
    sql: `INSERT INTO "check" (project_id, set_id, version_id, key, ordinal, visit_kind, title, criterion, clause,
                              how_to_look, photo_required)
          SELECT project_id, set_id, version_id, 'x', ordinal, visit_kind, title, criterion, clause, how_to_look,
                 false FROM "check" LIMIT 1`,
    sentence: /has \d+ checks, and event \d+ recorded \d+/,
  },
  change(
    'attachment',
    `sha256 = '${sha256Hex('x')}'`,
    all,
    'which bytes a file has',
    /sha256 is not what event/,
  ),
  change('attachment', 'bytes = bytes + 1', all, 'how many bytes a file has', /bytes is not what event/),
  change('attachment', "media_type = 'image/png'", all, 'what a file is', /mediaType is not what event/),
  change('attachment', "original_name = 'B.pdf'", all, 'the name of a file', /detailsHash is not what event/),
  change('attachment', "caption = 'x'", all, 'the caption of a file', /detailsHash is not what event/),
  change(
    'attachment',
    'latitude = 1, longitude = 1',
    all,
    'where a photo was taken',
    /detailsHash is not what/,
  ),
  change(
    'attachment',
    "captured_at = '2020-01-01'",
    all,
    'when a photo was taken',
    /detailsHash is not what/,
  ),
  change(
    'attachment',
    `uploaded_by_id = ${person}`,
    all,
    'who sent a file',
    /uploadedById is not the person/,
  ),
  change(
    'attachment',
    "uploaded_at = uploaded_at + interval '1 s'",
    all,
    'when it was sent',
    /Its time is not/,
  ),
  change(
    'attachment',
    'shared_with_owner = true',
    all,
    'what the owner may see',
    /shown to the owner, and no event says so/,
  ),
  {
    what: 'a file slipped in past the program',
    table: 'attachment',
    sql: `INSERT INTO attachment (project_id, sha256, bytes, media_type, original_name, uploaded_by_id)
          SELECT project_id, sha256, bytes, media_type, original_name, uploaded_by_id FROM attachment LIMIT 1`,
    sentence: stray,
  },
  {
    what: 'a photo taken from one thing and hung on another',
    table: 'attachment_link',
    sql: 'UPDATE attachment_link SET subject_id = gen_random_uuid()',
    sentence: /subjectId is not what event/,
    shows: 'attachment',
  },
  {
    what: 'a photo hung on a second thing',
    table: 'attachment_link',
    sql: `INSERT INTO attachment_link (attachment_id, project_id, subject, subject_id)
          SELECT attachment_id, project_id, subject, gen_random_uuid() FROM attachment_link LIMIT 1`,
    sentence: /hangs on 2 things/,
  },
  {
    what: 'a photo that hangs nowhere any more',
    table: 'attachment_link',
    sql: 'DELETE FROM attachment_link',
    sentence: /hangs on 0 things/,
  },
  {
    what: 'the words of a drawing',
    table: 'drawing_page',
    sql: "UPDATE drawing_page SET text = replace(text, 'Header', 'Leader')",
    sentence: /textHash is not what event/,
    shows: 'attachment',
  },
  {
    what: 'the page on which words stand',
    table: 'drawing_page',
    sql: 'UPDATE drawing_page SET page = page + 1',
    sentence: /textHash is not what event/,
    shows: 'attachment',
  },
  {
    what: 'removed words of a drawing',
    table: 'drawing_page',
    sql: 'DELETE FROM drawing_page',
    sentence: /textHash is not what event/,
    shows: 'attachment',
  },
  change('owner_word', "text = text || '!'", all, 'what the owner asked', /text is not what event/),
  change(
    'sheet_note',
    "content = replace(content, 'plates', 'plate')",
    all,
    'the words of a note on a drawing',
    /content is not what event/,
  ),
  change('sheet_note', 'number = number + 1', all, 'the number of a note', /number is not what event/),
  change('sheet_note', 'item_id = NULL', all, 'what a note points to', /itemId is not what event/),
  change('sheet_note', `by_id = ${person}`, all, 'who wrote a note', /byId is not the person of event/),
  change('sheet_note', "at = at + interval '1 s'", all, 'when a note was written', /Its time is not/),
  {
    what: 'a removed note',
    table: 'sheet_note',
    sql: 'DELETE FROM sheet_note',
    sentence: gone,
  },
  {
    what: 'a note slipped in past the program',
    table: 'sheet_note',
    sql: `INSERT INTO sheet_note (project_id, attachment_id, note_id, number, content, by_id)
          SELECT project_id, attachment_id, gen_random_uuid(), 1, content, by_id FROM sheet_note LIMIT 1`,
    sentence: stray,
  },
  change(
    'item',
    "title = 'Another beam'",
    "kind = 'beam'",
    'the title of an item',
    /title is not what event/,
  ),
  change('opening', "name = 'Kitchen wall'", all, 'the name of an opening', /name is not what event/),
  change(
    'phone_finding',
    "claimed_at = claimed_at - interval '1 hour'",
    all,
    'the time that a phone told',
    /claimedAt is not what event/,
  ),
  change('phone_finding', "reason = 'fine'", all, 'what a phone told', /reason is not what event/),
  change('phone_finding', `by_id = ${person}`, all, 'whose phone it was', /byId is not the person/),
  {
    what: 'a photo that no phone announced',
    table: 'phone_photo',
    sql: `INSERT INTO phone_photo (id, project_id, phone_finding_id, ordinal, original_name, bytes)
          SELECT gen_random_uuid(), project_id, id, 9, 'x.jpg', 9 FROM phone_finding LIMIT 1`,
    sentence: /photos is not what event/,
    shows: 'phone_finding',
  },
  change('phone_photo_arrival', "at = at - interval '1 day'", all, 'when a photo came', /Its time is not/),
  change(
    'late_placing',
    "reason = 'other'",
    all,
    'why a late finding was set aside',
    /reason is not what event/,
  ),
];
