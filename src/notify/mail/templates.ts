import nunjucks from 'nunjucks';
import { templateFolder } from '../../web/plugins/views.ts';
import { addFilters } from '../../web/filters.ts';

const html = environment(true);
/** Plain text is not markup: a `<` stays what it is. */
const text = environment(false);

function environment(autoescape: boolean): nunjucks.Environment {
  const loader = new nunjucks.FileSystemLoader(templateFolder, { noCache: false });
  const made = new nunjucks.Environment(loader, { autoescape, throwOnUndefined: true });
  addFilters(made);
  return made;
}

/** Both bodies of a letter from `templates/notify/<name>.html.njk` and `.txt.njk`. */
export function bodies(name: string, data: object): { html: string; text: string } {
  return {
    html: html.render(`notify/${name}.html.njk`, data),
    text: `${text.render(`notify/${name}.txt.njk`, data).trim()}\n`,
  };
}
