import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { braceRuleNotices } from '../../src/engineering/loads/take-off/brace-rules.ts';
import { nds } from '../../src/engineering/wood/clauses.ts';
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

/** Sections that a published reference of tests/published/reference was read for. */
function sectionsSeen(): Set<string> {
  const seen = new Set<string>();
  const walk = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    const { provenance, source } = value as { provenance?: string; source?: { section?: string } };
    if (provenance === 'seen' && source?.section !== undefined) seen.add(source.section);
    Object.values(value).forEach(walk);
  };
  const folder = 'tests/published/reference';
  for (const name of readdirSync(folder)) walk(JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')));
  return seen;
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

  it.each(names)(
    '%s: says “from memory” behind each clause that nobody read, and behind no other',
    (name) => {
      const references = sectionsSeen();
      const [brace] = braceRuleNotices([{ id: 'b', label: 'Brace', angleDeg: 30, lengthIn: 60 } as never], {
        irc: '2021',
      });
      const read = (clause: string) => {
        const section = /[A-Z]?\d[\d.]*(\(\d\))?$/.exec(clause)?.[0] ?? clause;
        return (
          references.has(section) ||
          (clause.startsWith('NDS') && nds('2018', clause.replace('NDS ', '')).provenance === 'seen') ||
          (brace?.clause?.section === section && brace.clause.provenance === 'seen')
        );
      };
      const { source } = topicOf(name);
      const clauses = [
        ...source.matchAll(
          /((?:IRC|NDS|NEC|ASCE 7|ACI 318)[-\w]* (?:Table |chapter )?[\w.-]*[\w)](?:\(\d\))?)( \(from memory\))?/g,
        ),
      ];
      for (const [, clause = '', memory] of clauses) {
        expect({ clause, memory: memory !== undefined }).toEqual({ clause, memory: !read(clause) });
      }
      if (/IRC|NDS|NEC|ASCE|ACI/.test(source)) expect(clauses.length).toBeGreaterThan(0);
    },
  );

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
