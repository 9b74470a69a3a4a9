import { describe, expect, it } from 'vitest';
import { allForms, allKinds } from '../../../src/record/kinds/all.ts';
import { judgeForm } from '../../../src/web/forms/judge.ts';
import { faultInPlace } from '../../../src/web/forms/places.ts';
import { rowTouched } from '../../../src/web/forms/rows.ts';
import type { Typed } from '../../../src/web/forms/spec.ts';

function faults(kind: 'survey' | 'support', typed: Typed): string[] {
  const spec = allForms.get(kind)!.spec;
  const { schema } = allKinds.get(kind);
  const { errors, places = {} } = judgeForm(spec, schema as never, typed).form;
  return Object.entries(errors).map(([name, sentence]) => faultInPlace(sentence, places[name]));
}

describe('the list of all faults', () => {
  it('says in which row a box is, by the number that the page gives the row', () => {
    const said = faults('survey', { 'strips.1.deadPsf': '', 'strips.4.deadPsf': 'much', datum: '' });
    expect(said).toContain('What it is (strip 1): fill this in.');
    expect(said).toContain('Dead load (strip 2): enter a number.');
    expect(said).toContain('Positions are measured from: fill this in.');
  });

  it('says in which group a box is whose label stands in several', () => {
    const said = faults('support', { 'squashBlocks.count': '3', 'squashBlocks.heightIn': 'x' });
    expect(said).toContain('Species (Squash blocks through the floor): fill this in.');
    expect(said).toContain('Species (They stand on): fill this in.');
    // One of a kind needs no more words.
    expect(said.filter((one) => one.startsWith('Depth of the floor: “x”'))).toHaveLength(1);
  });

  it('puts the place before a sentence that names no box', () => {
    expect(faultInPlace('From must come before to.', 'strip 2')).toBe('Strip 2: From must come before to.');
    // What a template hands over where a form knows of no places.
    for (const none of [undefined, ''])
      expect(faultInPlace('From must come before to.', none)).toBe('From must come before to.');
  });
});

it('the page opens at the row that was added, or at the list that lost one', () => {
  const { spec } = allForms.get('survey')!;
  const typed = { 'strips.0.id': 'a', 'strips.3.id': 'b' };
  expect(rowTouched(spec, typed, { do: 'add', list: 'strips' })).toBe('strips.3');
  expect(rowTouched(spec, typed, { do: 'remove', list: 'strips', row: 1 })).toBe('strips');
  expect(rowTouched(spec, typed, { do: 'save' })).toBe('');
});
