import { PRESCRIPTIVE_ITEMS } from '../../../engineering/fasteners/irc-fastening-schedule.ts';
import { optionsOf } from '../../../web/forms/choices.ts';
import type { Field } from '../../../web/forms/spec.ts';

/** What a row must carry, and by what it is judged. */
export const demandFields: readonly Field[] = [
  {
    kind: 'group',
    label: 'What it must carry',
    prefix: 'demand',
    fields: [
      {
        kind: 'select',
        name: 'per',
        label: 'Given for',
        options: [
          { value: 'foot', text: 'each foot of the rows' },
          { value: 'joint', text: 'the whole joint' },
          { value: 'connector', text: 'one connector' },
          { value: 'none', text: 'nothing: it holds pieces in place' },
        ],
      },
      {
        kind: 'number',
        name: 'lateralPlf',
        label: 'Lateral',
        unit: 'plf',
        when: { field: 'per', is: ['foot'] },
      },
      {
        kind: 'number',
        name: 'withdrawalPlf',
        label: 'Withdrawal',
        unit: 'plf',
        when: { field: 'per', is: ['foot'] },
      },
      {
        kind: 'number',
        name: 'lateralLb',
        label: 'Lateral',
        unit: 'lb',
        when: { field: 'per', is: ['joint'] },
      },
      {
        kind: 'number',
        name: 'withdrawalLb',
        label: 'Withdrawal',
        unit: 'lb',
        when: { field: 'per', is: ['joint'] },
      },
      {
        kind: 'number',
        name: 'downLb',
        label: 'Down',
        unit: 'lb',
        when: { field: 'per', is: ['connector'] },
      },
      {
        kind: 'number',
        name: 'upLb',
        label: 'Up',
        unit: 'lb',
        when: { field: 'per', is: ['connector'] },
      },
      {
        kind: 'number',
        name: 'durationFactor',
        label: 'Load duration CD',
        hint: 'NDS 2.3.2: 0.9 dead, 1.0 floor, 1.15 snow, 1.25 roof live, 1.6 wind.',
      },
      {
        kind: 'text',
        name: 'combination',
        label: 'Combination',
        example: 'D + L',
        blankIsText: true,
        maxLength: 80,
      },
      { kind: 'text', name: 'source', label: 'Where it comes from', maxLength: 400 },
    ],
  },
  {
    kind: 'group',
    label: 'Judged by',
    prefix: 'basis',
    fields: [
      {
        kind: 'select',
        name: 'kind',
        label: 'Measure',
        options: [
          { value: 'yield limit', text: 'NDS chapter 12: demand against capacity' },
          { value: 'built-up column', text: 'NDS 15.3: the pack as one column' },
          { value: 'listing', text: 'the connector’s listing' },
          { value: 'anchor', text: 'an anchor in concrete' },
          { value: 'prescriptive', text: 'IRC Table R602.3(1)' },
        ],
      },
      {
        kind: 'select',
        name: 'shear',
        label: 'Shear',
        options: optionsOf(['single', 'double']),
        when: { field: 'kind', is: ['yield limit'] },
      },
      {
        kind: 'group',
        label: 'Listing of the connector',
        prefix: 'listing',
        optional: true,
        when: { field: 'kind', is: ['listing'] },
        fields: [
          { kind: 'text', name: 'report', label: 'Report', maxLength: 120 },
          { kind: 'number', name: 'downLb', label: 'Down', unit: 'lb' },
          { kind: 'number', name: 'upLb', label: 'Up', unit: 'lb' },
          { kind: 'number', name: 'nailsRequired', label: 'Nails it needs', whole: true },
          { kind: 'length', name: 'nailDiameterIn', label: 'Nail diameter' },
          { kind: 'length', name: 'nailLengthIn', label: 'Nail length' },
          { kind: 'checkbox', name: 'shortNailsAllowed', label: 'Short nails are allowed' },
        ],
      },
      {
        kind: 'length',
        name: 'concreteEdgeIn',
        label: 'Anchor to the edge of the concrete',
        when: { field: 'kind', is: ['anchor'] },
      },
      {
        kind: 'group',
        label: 'Anchor by its report',
        prefix: 'declared',
        optional: true,
        when: { field: 'kind', is: ['anchor'] },
        fields: [
          { kind: 'text', name: 'report', label: 'Report', maxLength: 120 },
          { kind: 'number', name: 'shearLb', label: 'Shear', unit: 'lb' },
          { kind: 'number', name: 'tensionLb', label: 'Tension', unit: 'lb' },
          { kind: 'length', name: 'leastEdgeIn', label: 'Least edge distance' },
          { kind: 'length', name: 'leastSpacingIn', label: 'Least spacing' },
          { kind: 'length', name: 'leastEmbedmentIn', label: 'Least embedment' },
          { kind: 'length', name: 'leastConcreteThicknessIn', label: 'Least thickness of concrete' },
        ],
      },
    ],
  },
  {
    kind: 'select',
    name: 'prescriptiveItem',
    label: 'The code’s own row, beside it',
    optional: true,
    options: [{ value: '', text: 'none' }, ...optionsOf(PRESCRIPTIVE_ITEMS)],
  },
  { kind: 'textarea', name: 'note', label: 'Note', blankIsText: true, maxLength: 600 },
];
