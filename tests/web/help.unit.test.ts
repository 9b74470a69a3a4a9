import { describe, expect, it } from 'vitest';
import { textWidth } from '../../src/report/drawings/pens.ts';
import { allForms } from '../../src/record/kinds/all.ts';
import type { Field } from '../../src/web/forms/spec.ts';
import { WIDTH } from '../../src/web/help/drawings/frame.ts';
import { topicOf, topics, type TopicName } from '../../src/web/help/topics.ts';
import { renderString } from './render-template.ts';

const names = Object.keys(topics) as TopicName[];

function asked(fields: readonly Field[]): readonly TopicName[] {
  return fields.flatMap((field) => [
    ...(field.help ?? []),
    ...(field.kind === 'group' || field.kind === 'list' ? asked(field.fields) : []),
  ]);
}

describe('help beside the fields', () => {
  it.each(names)('%s: a question, plain words, a source and a drawing that says what it shows', (name) => {
    const { question, words, source, svg } = topicOf(name);
    expect(question).toMatch(/\?$/);
    for (const paragraph of words) expect(paragraph).toMatch(/[.?]$/);
    expect(words.join(' ').length).toBeLessThan(320);
    expect(source).toMatch(/IRC|NDS|ASCE|ACI|NEC|[Cc]ommon practice|Mechanics/);
    expect(svg).toMatch(/^<svg [^>]*role="img" aria-label="[^"]{30,}"/);
    expect(svg).not.toMatch(/ id="|NaN|undefined/);
    // Words that would run out of the picture are cut there.
    for (const [, head = '', shown = ''] of svg.matchAll(/<text ([^>]*)>([^<]*)</g)) {
      const x = Number(/ ?x="([\d.]+)"/.exec(head)?.[1]);
      const anchor = /text-anchor="(\w+)"/.exec(head)?.[1];
      const width = textWidth(shown.replace(/&[^;]+;/g, '"'));
      const from = x - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
      expect({ shown, from: from >= -2, to: from + width <= WIDTH + 2 }).toEqual({
        shown,
        from: true,
        to: true,
      });
    }
  });

  it('is asked for at some field, each', () => {
    const met = new Set([...allForms.values()].flatMap(({ spec }) => asked(spec.fields)));
    expect(names.filter((name) => !met.has(name))).toEqual([]);
  });

  it('stands once for a list of rows, beside the first', () => {
    const { spec } = allForms.get('survey')!;
    const html = renderString(
      `{% import "parts/spec-form.njk" as f %}{{ f.fields(fields, { values: {}, errors: {} }, rows) }}`,
      { fields: spec.fields, rows: { strips: [0, 1, 2], braces: [0, 1] } },
    );
    expect(html.match(/What is the tributary width\?/g)).toHaveLength(1);
    expect(html.match(/What is a roof brace\?/g)).toHaveLength(1);
  });
});
