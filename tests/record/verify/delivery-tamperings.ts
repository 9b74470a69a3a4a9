import { all, change, gone, type SiteTampering } from './site-tamperings.ts';

export const deliveryTamperings: readonly SiteTampering[] = [
  change('material_order', "yard = 'Another yard'", all, 'where it was ordered', /yard is not what event/),
  change('material_order', "lines = '[]'", all, 'what was ordered', /lines is not what event/),
  change('delivery', "yard = 'Another yard'", all, 'from whom it came', /yard is not what event/),
  change('delivery', "at = at + interval '1 day'", all, 'when it came', /Its time is not/),
  change('delivery_line', 'count = count + 1', all, 'how many came', /count is not what event/),
  change('delivery_line', 'differences = \'["x"]\'', all, 'how it compared', /differences is not what event/),
  change(
    'delivery_line',
    'covered = NOT covered',
    all,
    'whether it lies covered',
    /covered is not what event/,
  ),
  change(
    'delivery_withdrawal',
    "reason = 'entered_wrongly'",
    all,
    'why a line was withdrawn',
    /reason is not what event/,
  ),
  {
    what: 'a withdrawal that is gone',
    table: 'delivery_withdrawal',
    sql: 'DELETE FROM delivery_withdrawal',
    sentence: gone,
  },
];
