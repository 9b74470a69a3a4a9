import nunjucks from 'nunjucks';
import { addFilters } from '../../src/web/filters.ts';

/** Templates as the app renders them, except that a name nobody set is an error here. */
const environment = new nunjucks.Environment(
  new nunjucks.FileSystemLoader(new URL('../../templates', import.meta.url).pathname),
  { autoescape: true, throwOnUndefined: true },
);
addFilters(environment);

export function renderTemplate(name: string, context: object): string {
  return environment.render(name, context);
}

export function renderString(source: string, context: object = {}): string {
  return environment.renderString(source, context);
}
