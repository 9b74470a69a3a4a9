import { all, change, gone, type SiteTampering } from './site-tamperings.ts';

const stray = /^No event recorded it\.$/;
const person = "(SELECT id FROM person WHERE name = 'Ow Ner')";

/** Changes to what was planned and logged of the order of work, and to what comes out that is of use. */
export const workTamperings: readonly SiteTampering[] = [
  change('sequence_plan', `content = '{"steps":[]}'`, all, 'a planned day', /content is not what event/),
  change('sequence_plan', "reason = 'x'", all, 'why a day moved', /reason is not what event/),
  change(
    'work_entry',
    "out_of_order = '[]'",
    all,
    'the flag of work out of order',
    /outOfOrder is not what event/,
  ),
  change('work_entry', "done_on = '2020-01-01'", all, 'the day of work', /doneOn is not what event/),
  change('work_entry', `by_id = ${person}`, all, 'who logged work', /byId is not the person/),
  {
    what: 'an entry slipped in past the program',
    table: 'work_entry',
    sql: `INSERT INTO work_entry (project_id, opening_id, number, step, title, done_on, who, note, out_of_order, by_id)
          SELECT project_id, opening_id, 77, 'shoring', title, done_on, who, note, '[]', by_id FROM work_entry LIMIT 1`,
    sentence: stray,
  },
  change('work_withdrawal', "reason = 'x'", all, 'why an entry was taken back', /reason is not what event/),
  {
    what: 'an entry that was taken back and is not any more',
    table: 'work_withdrawal',
    sql: 'DELETE FROM work_withdrawal',
    sentence: gone,
  },
  change('salvage_line', "how_many = 'none'", all, 'how much comes out', /howMany is not what event/),
  change('salvage_word', "word = 'throw_away'", all, 'what the owner decided', /word is not what event/),
  change(
    'salvage_word',
    `by_id = (SELECT by_id FROM salvage_line LIMIT 1)`,
    all,
    'who decided',
    /byId is not the person/,
  ),
];
