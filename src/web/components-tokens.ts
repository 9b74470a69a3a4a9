import type { Field } from './forms/spec.ts';

/** What the living page shows of src/web/assets/tokens.css and templates/parts/icon.njk, in words. */
export const sampleTypeSizes = [
  { size: 5, words: 'Heading of a page' },
  { size: 4, words: 'Heading of a part' },
  { size: 3, words: 'Heading within a part, and the sentence under the page’s heading' },
  { size: 2, words: 'What is read: the default' },
  { size: 1, words: 'Hints, states, columns of tables' },
  { size: 0, words: 'Labels of the title block, notes; nothing is smaller' },
] as const;

export const sampleTones = [
  { name: 'paper', words: 'The pad under the sheet' },
  { name: 'sheet', words: 'What is written on' },
  { name: 'sunk', words: 'Set back: notes, units, what cannot be used now' },
  { name: 'ink', words: 'Words and lines' },
  { name: 'ink-soft', words: 'Words that stand back' },
  { name: 'edge', words: 'Edges of boxes' },
  { name: 'chalk', words: 'Chalk line: in order, or to be pressed' },
  { name: 'chalk-wash', words: 'Ground of what is in order' },
  { name: 'crayon', words: 'Lumber crayon: needs a hand' },
  { name: 'crayon-wash', words: 'Ground of what needs a hand' },
  { name: 'lumber', words: 'Wood in a drawing' },
] as const;

export const sampleSpaces = [
  { step: 1, words: '1/4: between a label and its box' },
  { step: 2, words: '1/2: between shapes and words' },
  { step: 3, words: '3/4: between buttons' },
  { step: 4, words: '1: between paragraphs' },
  { step: 5, words: '1 1/2: between fields, before a heading' },
  { step: 6, words: '2: the sheet’s margin' },
  { step: 7, words: '3: between what has nothing to do with each other' },
] as const;

export const sampleIcons = [
  'check',
  'triangle',
  'return',
  'clock',
  'pencil',
  'arrow-right',
  'cross',
  'dash',
  'ring',
  'half',
  'lock',
  'layers',
  'warning',
  'info',
  'plus',
  'file',
  'next',
  'previous',
] as const;

/** A form described as data, with a list whose rows come and go. */
export const sampleFields: readonly Field[] = [
  { kind: 'text', name: 'sampleLabel', label: 'Name of the strip', example: 'Upper floor' },
  {
    kind: 'list',
    name: 'sampleBraces',
    label: 'Roof braces that land on the wall',
    one: 'Brace',
    hint: 'One for each post or brace',
    max: 6,
    start: {},
    fields: [
      { kind: 'length', name: 'positionIn', label: 'Position along the wall' },
      { kind: 'number', name: 'angleDeg', label: 'Angle to the floor', unit: 'degrees', example: '53' },
    ],
  },
];
export const sampleRows = { sampleBraces: [0] };
