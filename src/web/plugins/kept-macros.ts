import nunjucks from 'nunjucks';

type Done = (error: Error | null, exported: unknown) => void;
interface Exporting {
  getExported: (this: object, ...args: unknown[]) => void;
}

const kept = new WeakMap<object, unknown>();
let done = false;

/**
 * Nunjucks runs an imported template anew for every page that imports it, only to have its macros once more. An import
 * without context, of which alone we make use, gives the same macros each time: they are kept with the template, which
 * itself is made anew where its file is read anew.
 */
export function keepMacros(): void {
  if (done) return;
  done = true;
  const templates = nunjucks.Template.prototype as unknown as Exporting;
  const { getExported } = templates;
  templates.getExported = function keeping(...args) {
    const [first] = args;
    if (args.length !== 1 || typeof first !== 'function') {
      getExported.apply(this, args);
      return;
    }
    const tell = first as Done;
    const known = kept.get(this);
    if (known !== undefined) {
      tell(null, known);
      return;
    }
    getExported.call(this, (error: Error | null, exported: unknown) => {
      if (error === null) kept.set(this, exported);
      tell(error, exported);
    });
  };
}
