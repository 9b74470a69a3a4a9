import { readdir, readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { componentsSample } from '../../src/web/components-sample.ts';
import { renderString, renderTemplate } from './render-template.ts';

const HOSTILE = `"><script>alert('x')</script>`;
const page = {
  ...componentsSample(),
  csrfToken: 'token',
  person: { id: 'p1', name: 'K. O.' },
  project: { id: '1', name: 'Cinder Ferry' },
  role: 'engineer',
  path: '/projects/1',
  flash: null,
};
const form = { values: { a: HOSTILE, b: 0, c: ['x', 'y'] }, errors: { a: HOSTILE } };

/** Each call in a template of its own, with everything a user may have written set to break out. */
const calls = {
  text: `{% import "parts/forms.njk" as f %}{{ f.text(form, 'a', h, hint=h, example=h, unit=h) }}`,
  textarea: `{% import "parts/forms.njk" as f %}{{ f.textarea(form, 'a', h, hint=h) }}`,
  select: `{% import "parts/forms.njk" as f %}{{ f.select(form, 'a', h, [{ value: h, text: h }], hint=h) }}`,
  radios: `{% import "parts/forms.njk" as f %}{{ f.radios(form, 'a', h, [{ value: h, text: h, hint: h }]) }}`,
  checkbox: `{% import "parts/forms.njk" as f %}{{ f.checkbox(form, 'a', h, hint=h, value=h) }}`,
  file: `{% import "parts/forms.njk" as f %}{{ f.file(form, 'a', h, hint=h, accept=h) }}`,
  'error summary': `{% from "parts/error-summary.njk" import errorSummary %}{{ errorSummary({ a: h }, title=h) }}`,
  buttons: `{% import "parts/buttons.njk" as b %}{{ b.button(h, name=h, value=h, confirm=h) }}{{ b.linkButton(h, h) }}{{ b.postButton(h, h, h, confirm=h, fields={ k: h }) }}`,
  chip: `{% from "parts/chip.njk" import chip %}{{ chip(h) }}{{ chip('approved', h) }}`,
  table: `{% import "parts/table.njk" as t %}{{ t.table(h, [h, { text: h, number: true }], [[h, h]]) }}`,
  notices: `{% import "parts/notices.njk" as n %}{{ n.notice(h, h) }}{{ n.flash(h, { words: h, href: h }) }}{% call n.empty(h, h) %}{% endcall %}`,
  lists: `{% import "parts/lists.njk" as l %}{{ l.facts([{ term: h, detail: h, note: h }]) }}{{ l.timeline([{ when: h, who: h, text: h, detail: h }]) }}{{ l.hash(h) }}`,
  navigation: `{% import "parts/navigation.njk" as n %}{{ n.breadcrumb([{ href: h, text: h }], h) }}{{ n.pagination(2, 3, h, h) }}`,
  checks: `{% import "parts/checks.njk" as c %}{{ c.checkRow({ id: h, title: h, passes: false, ratioText: h, barWidth: 120, demand: h, capacity: h, sentence: h, clause: h, governing: h, steps: [{ title: h, formula: h, substituted: h, result: h, clause: h, note: h }] }) }}`,
};

describe('what people wrote stays words', () => {
  it.each(Object.entries(calls))('%s', (_name, source) => {
    const markup = renderString(source, { form, h: HOSTILE });
    expect(markup).not.toContain('<script');
    expect(markup).not.toContain(`alert('x')`);
    expect(markup).toContain('&lt;script&gt;');
  });
});

describe('fields', () => {
  it('keep what was written, zero and several choices included', () => {
    const number = renderString(`{% import "parts/forms.njk" as f %}{{ f.number(form, 'b', 'B') }}`, {
      form,
    });
    expect(number).toContain('value="0"');
    const boxes = renderString(
      `{% import "parts/forms.njk" as f %}{{ f.checkboxes(form, 'c', 'C', [{ value: 'x', text: 'X' }, { value: 'z', text: 'Z' }]) }}`,
      { form },
    );
    expect(boxes).toMatch(/value="x" checked/);
    expect(boxes).not.toMatch(/value="z" checked/);
  });

  it('never send a password back', () => {
    const markup = renderString(
      `{% import "parts/forms.njk" as f %}{{ f.text(form, 'a', 'A', type='password') }}`,
      {
        form,
      },
    );
    expect(markup).not.toContain('value=');
  });

  it('work without a form at all', () => {
    expect(renderString(`{% import "parts/forms.njk" as f %}{{ f.text(none, 'a', 'A') }}`)).toContain(
      'value=""',
    );
  });

  it('say that they are wrong, and describe themselves by ids that are there', () => {
    const markup = renderTemplate('components.njk', page);
    const ids = new Set([...markup.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]!));
    const pointed = [...markup.matchAll(/\s(?:aria-describedby|for|aria-labelledby)="([^"]+)"/g)].flatMap(
      (match) => match[1]!.split(' '),
    );
    expect(pointed.length).toBeGreaterThan(20);
    expect(pointed.filter((id) => !ids.has(id))).toEqual([]);
    expect(markup.match(/aria-invalid="true"/g)!.length).toBe(Object.keys(page.wrongForm.errors).length - 1);
  });

  it('gives no id twice, and the error summary leads to fields that are there', () => {
    const markup = renderTemplate('components.njk', page);
    const ids = [...markup.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]!);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    const targets = [...markup.matchAll(/href="#(f-[^"]+)"/g)].map((match) => match[1]!);
    expect(targets).toHaveLength(Object.keys(page.wrongForm.errors).length - 1);
    expect(targets.filter((id) => !ids.includes(id))).toEqual([]);
  });
});

describe('the layout', () => {
  it('says on every page that a mark is no seal', () => {
    expect(renderTemplate('components.njk', page)).toContain('Record of review. Not a sealed document.');
  });

  it('marks where one is, and shows the log to those who may read it', () => {
    const engineer = renderTemplate('components.njk', page);
    expect(engineer).toContain('<a href="/projects/1" aria-current="page">Overview</a>');
    expect(engineer).toContain('href="/projects/1/log"');
    expect(renderTemplate('components.njk', { ...page, role: 'owner' })).not.toContain(
      'href="/projects/1/log"',
    );
  });

  it('offers signing in to nobody, signing out by POST to somebody', () => {
    expect(renderTemplate('components.njk', { ...page, person: null, project: null })).toContain(
      'href="/sign-in"',
    );
    expect(renderTemplate('components.njk', page)).toMatch(
      /<form method="post" action="\/sign-out">.*_csrf.*token/,
    );
  });

  it('puts errors first, in the title as well', () => {
    const markup = renderTemplate('components.njk', {
      ...page,
      form: { values: {}, errors: { datum: 'Name it.' } },
    });
    expect(markup).toContain('<title>Error: ');
    expect(markup.indexOf('data-error-summary')).toBeLessThan(markup.indexOf('<h1'));
  });
});

describe('the living page of components', () => {
  /** Why a part is not on it. */
  const elsewhere: Readonly<Record<string, string>> = {
    'attachments.gallery': 'needs files that are kept; on every opening of the demo',
  };

  it('shows every part there is', async () => {
    const folder = new URL('../../templates/', import.meta.url);
    const living = await readFile(new URL('components.njk', folder), 'utf8');
    const missing: string[] = [];
    for (const file of await readdir(new URL('parts/', folder))) {
      const source = await readFile(new URL(`parts/${file}`, folder), 'utf8');
      const part = file.replace(/\.njk$/, '');
      const called = calledFrom(living, part);
      // What a part uses of itself is shown with it.
      const macros = [...source.matchAll(/{% macro (\w+)/g)].map(([, name = '']) => name);
      for (const name of macros) {
        const within = new RegExp(
          `[{(+] *(?:\\w+\\.)?${name}\\(|{% call(?:\\([^)]*\\))? (?:\\w+\\.)?${name}\\(`,
        );
        const usedByParts = within.test(source.replace(`macro ${name}(`, ''));
        if (!called(name) && !usedByParts) missing.push(`${part}.${name}`);
      }
    }
    expect(missing.sort()).toEqual(Object.keys(elsewhere).concat('field-id.fieldId').sort());
  });
});

/** Does the template call a macro of that part, under whatever name it imports it? */
function calledFrom(template: string, part: string): (macro: string) => boolean {
  const alias = new RegExp(`{% import "parts/${part}\\.njk" as (\\w+) %}`).exec(template)?.[1];
  const named = new RegExp(`{% from "parts/${part}\\.njk" import ([^%]*) %}`).exec(template)?.[1] ?? '';
  return (macro) =>
    (alias !== undefined && template.includes(`${alias}.${macro}(`)) ||
    (named.split(/, */).includes(macro) && new RegExp(`[{ ]${macro}\\(`).test(template));
}

describe('words about items', () => {
  it('a tag beside a title begins with a capital, and is left out where the title says it', () => {
    const words = (tag: string, title: string) => renderString('{{ tag | beside(title) }}', { tag, title });
    expect([
      words('left', 'Pack at the stair'),
      words('N1', 'Ply to ply'),
      words('left', 'Left footing'),
    ]).toEqual(['Left', 'N1', '']);
  });
  it.each([
    [1, 'its check is met'],
    [2, 'both checks met'],
    [7, 'all 7 checks met'],
  ])('of %i checks', (passing, words) => {
    const view = { failing: 0, passing, governing: null, notices: [], checks: [], steps: [], outputs: [] };
    const source = '{% import "record/parts.njk" as p %}{{ p.calculation(view, []) }}';
    expect(renderString(source, { view })).toContain(words);
  });
});
