import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { goodsKinds } from '../../../src/engineering/materials-list/index.ts';
import { allForms } from '../../../src/record/kinds/all.ts';
import { goodsForm } from '../../../src/site/deliveries/forms.ts';
import type { Field } from '../../../src/web/forms/spec.ts';
import { templateFolder } from '../../../src/web/plugins/views.ts';

/** What a field leaves open for whoever has to fill it in. */
function leftOpen(field: Field, place: string): string[] {
  if (field.kind === 'group')
    return field.fields.flatMap((one) => leftOpen(one, `${place} > ${field.label}`));
  if (field.kind === 'list') return field.fields.flatMap((one) => leftOpen(one, `${place} > ${field.label}`));
  const name = `${place} > ${field.label}`;
  const open: string[] = [];
  if (field.kind === 'number' && !field.unit) open.push(`${name}: no unit`);
  if ((field.kind === 'number' || field.kind === 'length') && !field.example)
    open.push(`${name}: no example`);
  if ((field.kind === 'text' || field.kind === 'textarea') && !field.example && !field.hint) {
    open.push(`${name}: neither example nor hint`);
  }
  return open;
}

/** Calls of the field macros in a template, each with its arguments as written. */
function fieldsOf(template: string): { macro: string; args: string }[] {
  return [...template.matchAll(/forms\.(number|length|text|textarea)\(/g)].map((match) => {
    let depth = 1;
    let end = match.index + match[0].length;
    const start = end;
    for (let quote = ''; depth > 0 && end < template.length; end += 1) {
      const sign = template[end]!;
      if (quote !== '') {
        if (sign === '\\') end += 1;
        else if (sign === quote) quote = '';
      } else if (sign === "'" || sign === '"') quote = sign;
      else if (sign === '(') depth += 1;
      else if (sign === ')') depth -= 1;
    }
    return { macro: match[1]!, args: template.slice(start, end - 1) };
  });
}

function leftOpenIn({ macro, args }: { macro: string; args: string }): string[] {
  const has = (key: string) => new RegExp(`[ ,]${key}=(?!'')`).test(args);
  // What these ask is known by their kind, and a browser shows how.
  if (/type='(?:password|date)'/.test(args)) return [];
  const open: string[] = [];
  if (macro === 'number' && !has('unit')) open.push('no unit');
  if (macro === 'number' && !has('example')) open.push('no example');
  if ((macro === 'text' || macro === 'textarea') && !has('example') && !has('hint')) {
    open.push('neither example nor hint');
  }
  return open.map((one) => `${args.slice(0, 60)}: ${one}`);
}

describe('every field says what to write', () => {
  it.each([...allForms.values()].map((form) => [form.kind, form.spec] as const))(
    'number boxes of the %s have unit and example, text boxes an example or hint',
    (kind, spec) => {
      expect(spec.fields.flatMap((field) => leftOpen(field, kind))).toEqual([]);
    },
  );

  it.each(goodsKinds)('so do those in which %s is received', (kind) => {
    expect(goodsForm(kind).fields.flatMap((field) => leftOpen(field, kind))).toEqual([]);
  });

  const templates = readdirSync(templateFolder, { recursive: true, encoding: 'utf8' }).filter(
    // The living page of components shows boxes with and without everything.
    (file) => file.endsWith('.njk') && !file.startsWith('parts') && file !== 'components.njk',
  );
  it('so do the boxes that pages write themselves', () => {
    const fields = templates.flatMap((file) =>
      fieldsOf(readFileSync(path.join(templateFolder, file), 'utf8')).map((field) => ({ file, field })),
    );
    expect(fields.length).toBeGreaterThan(60);
    expect(fields.flatMap(({ file, field }) => leftOpenIn(field).map((open) => `${file}: ${open}`))).toEqual(
      [],
    );
  });

  it('would find a box that says nothing', () => {
    expect(leftOpen({ kind: 'number', name: 'a', label: 'A' }, 'x')).toEqual([
      'x > A: no unit',
      'x > A: no example',
    ]);
    expect(leftOpen({ kind: 'text', name: 'a', label: 'A' }, 'x')).toEqual([
      'x > A: neither example nor hint',
    ]);
    expect(
      fieldsOf(`{{ forms.number(form, 'a', 'A (b)', optional=true) }}`).flatMap(leftOpenIn),
    ).toHaveLength(2);
  });
});
