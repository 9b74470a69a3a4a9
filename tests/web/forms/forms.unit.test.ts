import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { allForms, allKinds } from '../../../src/record/kinds/all.ts';
import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoRows,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import { judgeForm } from '../../../src/web/forms/judge.ts';
import { readForm, readNumber, typedFrom } from '../../../src/web/forms/read.ts';
import { changeRows, readPress, rowsOf } from '../../../src/web/forms/rows.ts';
import type { FormSpec } from '../../../src/web/forms/spec.ts';

const spec: FormSpec = {
  fields: [
    { kind: 'length', name: 'span', label: 'Span' },
    { kind: 'number', name: 'plies', label: 'Plies', whole: true },
    { kind: 'select', name: 'kind', label: 'Kind', options: [] },
    { kind: 'text', name: 'grade', label: 'Grade', when: { field: 'kind', is: ['sawn'] } },
    { kind: 'checkbox', name: 'wet', label: 'Wet' },
    { kind: 'text', name: 'note', label: 'Note', optional: true },
    { kind: 'text', name: 'combination', label: 'Combination', blankIsText: true },
    {
      kind: 'group',
      label: 'Pad',
      prefix: 'pad',
      optional: true,
      fields: [{ kind: 'length', name: 'widthIn', label: 'Width' }],
    },
    {
      kind: 'list',
      name: 'strips',
      label: 'Strips',
      one: 'Strip',
      max: 3,
      start: { id: 'strip-#' },
      fields: [
        { kind: 'text', name: 'id', label: 'Name' },
        { kind: 'number', name: 'psf', label: 'Load', unit: 'psf' },
      ],
    },
  ],
};
const typed = {
  span: `12'-6"`,
  plies: '3',
  kind: 'composite',
  grade: 'left over',
  wet: 'yes',
  combination: '',
};

describe('reading a form', () => {
  it('gives nested content in the types of the schema, leaving out what is blank or not asked', () => {
    const { content, problems } = readForm(spec, {
      ...typed,
      'strips.0.id': 'a',
      'strips.0.psf': '1,250.5',
      'strips.2.id': 'b',
      'strips.2.psf': '.5',
    });
    expect(problems).toEqual({});
    expect(content).toEqual({
      span: 150,
      plies: 3,
      kind: 'composite',
      wet: true,
      combination: '',
      strips: [
        { id: 'a', psf: 1250.5 },
        { id: 'b', psf: 0.5 },
      ],
    });
  });

  it('takes a number with the unit that stands beside its box, and no other unit', () => {
    const load = (psf: string) => readForm(spec, { ...typed, 'strips.0.id': 'a', 'strips.0.psf': psf });
    expect(load('25 psf').content).toMatchObject({ strips: [{ psf: 25 }] });
    expect(load('1,500PSF').content).toMatchObject({ strips: [{ psf: 1500 }] });
    expect(load('25 plf').problems['strips.0.psf']).toContain('enter a number');
    expect(load('psf').problems['strips.0.psf']).toContain('enter a number');
  });

  it('says at the box what could not be read', () => {
    const { problems } = readForm(spec, { ...typed, span: '12.6', plies: '2.5', kind: 'sawn', grade: ' ' });
    expect(Object.keys(problems).sort()).toEqual(['grade', 'plies', 'span']);
    expect(problems.plies).toBe('Plies: enter a whole number.');
    expect(problems.grade).toBe('Grade: fill this in.');
  });

  it.each(['1e309', 'NaN', 'Infinity', '12ft', '--1', '1,2,3', ''])(
    'does not take %s for a number',
    (text) => {
      expect(readNumber(text)).toBeNull();
    },
  );

  it('drops what is no text of a form', () => {
    expect(typedFrom({ a: 'x\r\ny', b: ['1'], c: { d: 1 }, e: 5 })).toEqual({ a: 'x\ny' });
    expect(typedFrom(null)).toEqual({});
  });
});

describe('judging a form', () => {
  const schema = z.strictObject({
    strips: z.array(z.strictObject({ id: z.string(), psf: z.number().max(100) })),
  });
  const list: FormSpec = {
    fields: spec.fields.filter((field) => 'name' in field && field.name === 'strips'),
  };

  it('leads a problem of the content back to its box, where rows were taken out between', () => {
    const judged = judgeForm(list, schema, {
      'strips.0.id': 'a',
      'strips.0.psf': '5',
      'strips.4.id': 'b',
      'strips.4.psf': '500',
    });
    expect(judged.ok).toBe(false);
    expect(judged.form.errors).toEqual({ 'strips.4.psf': 'Load: at most 100.' });
    expect(judged.form.values['strips.4.psf']).toBe('500');
  });
});

describe('rows of a list', () => {
  const start = { 'strips.0.id': 'a', 'strips.0.psf': '5' };

  it('are added with what a new row starts with, up to the most', () => {
    const press = readPress({ do: 'add:strips' });
    let boxes: Record<string, string> = changeRows(spec, start, press);
    expect(boxes['strips.1.id']).toBe('strip-2');
    for (let i = 0; i < 5; i += 1) boxes = changeRows(spec, boxes, press);
    expect(rowsOf(spec, boxes).strips).toEqual([0, 1, 2]);
  });

  it('are taken out, and the others keep their boxes', () => {
    const two = changeRows(spec, start, { do: 'add', list: 'strips' });
    const one = changeRows(spec, two, readPress({ do: 'remove:strips.0' }));
    expect(rowsOf(spec, one).strips).toEqual([1]);
  });
});

/** What is stored, filled into its form and read again, is the same: nothing is lost by opening an editor. */
describe('every kind’s form gives back its content', () => {
  const samples: [string, unknown][] = [
    ['criteria', demoCriteria],
    ['survey', demoSurvey],
    ['beam', demoBeam],
    ...demoSupports.map((one): [string, unknown] => ['support', one]),
    [
      'support',
      {
        ...demoSupports[0],
        squashBlocks: {
          species: 'DF-L',
          grade: 'No.2',
          size: '2x6',
          count: 2,
          heightIn: 9.25,
          on: { species: 'HF', grade: 'No.2', size: '2x6' },
          endDistanceIn: 0,
        },
        girderPost: {
          species: 'DF-L',
          grade: 'No.1',
          size: '6x6',
          heightIn: 36,
          girder: { species: 'DF-L', grade: 'No.2', size: '4x10', plies: 1 },
          girderEndDistanceIn: 40,
          offPostIn: 2,
        },
      },
    ],
    ...demoFootings.map((one): [string, unknown] => ['footing', one]),
    ['footing', { ...demoFootings[0], pad: { widthIn: 30, lengthIn: 30.5, thicknessIn: 12 } }],
    ...demoRows.map((row): [string, unknown] => ['fastening', row.content]),
    [
      'beam',
      {
        placement: 'dropped',
        member: { kind: 'sawn', species: 'DF-L', grade: 'No.2', size: '2x10', plies: 3 },
        bearingLeftIn: 3,
        bearingRightIn: 3,
      },
    ],
    [
      'beam',
      {
        placement: 'flush',
        member: { kind: 'steel', shape: 'W8x18', fyKsi: 50 },
        bearingLeftIn: 4,
        bearingRightIn: 4,
      },
    ],
  ];
  it.each(samples)('%s', (kind, sample) => {
    const definition = allKinds.all.find((one) => one.kind === kind)!;
    const { spec: form } = allForms.get(definition.kind)!;
    const content = definition.schema.parse(sample);
    const judged = judgeForm(form, definition.schema, fillForm(form, content));
    expect(judged.form.errors).toEqual({});
    const again = judged.ok ? judged.content : null;
    expect(strip(again)).toEqual(strip(content));
  });

  /** A checkbox that is not ticked says false where the content may leave it out. */
  function strip(value: unknown): unknown {
    return JSON.parse(JSON.stringify(value, (_key, inner: unknown) => (inner === false ? undefined : inner)));
  }
});
