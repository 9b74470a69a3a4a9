import type { SiteTampering } from './site-tamperings.ts';

/** Everything there belongs to the one project of the test's own database. */
function change(table: string, set: string, what: string, sentence: RegExp): SiteTampering {
  return { what, table, sql: `UPDATE "${table}" SET ${set}`, sentence };
}

export const deliveryTamperings: readonly SiteTampering[] = [
  change('material_order', "yard = 'Another yard'", 'where it was ordered', /yard is not what event/),
  change('material_order', "lines = '[]'", 'what was ordered', /lines is not what event/),
  change('delivery', "yard = 'Another yard'", 'from whom it came', /yard is not what event/),
  change('delivery', "at = at + interval '1 day'", 'when it came', /Its time is not/),
  change('delivery_line', 'count = count + 1', 'how many came', /count is not what event/),
  change('delivery_line', 'differences = \'["x"]\'', 'how it compared', /differences is not what event/),
  change('delivery_line', 'covered = NOT covered', 'whether it lies covered', /covered is not what event/),
  change(
    'delivery_withdrawal',
    "reason = 'entered_wrongly'",
    'why a line was withdrawn',
    /reason is not what event/,
  ),
  {
    what: 'a withdrawal that is gone',
    table: 'delivery_withdrawal',
    sql: 'DELETE FROM delivery_withdrawal',
    sentence: /and it is gone/,
  },
];
