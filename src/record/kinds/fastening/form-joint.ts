import { JOINTS } from '../../../engineering/fasteners/schedule/row.ts';
import type { Field, Option } from '../../../web/forms/spec.ts';

/** Options that read as they are kept. */
export function same(values: readonly string[]): readonly Option[] {
  return values.map((value) => ({ value, text: value }));
}

/** What joins what, how it is driven and where: the boxes of a row but for demand and measure. */
export const jointFields: readonly Field[] = [
  {
    kind: 'group',
    label: 'The joint',
    fields: [
      {
        kind: 'text',
        name: 'id',
        label: 'Short name',
        hint: 'Small letters, digits, dashes.',
        maxLength: 41,
      },
      { kind: 'select', name: 'joint', label: 'Which joint', options: same(JOINTS) },
      { kind: 'text', name: 'where', label: 'Where', maxLength: 120 },
    ],
  },
  {
    kind: 'list',
    name: 'members',
    label: 'Pieces, from the head inwards',
    one: 'Piece',
    max: 6,
    start: { material: 'wood', angleDeg: '90', specificGravity: '0.5' },
    fields: [
      { kind: 'text', name: 'name', label: 'Piece', maxLength: 60 },
      {
        kind: 'select',
        name: 'material',
        label: 'Material',
        options: same(['wood', 'steel', 'concrete']),
      },
      {
        kind: 'text',
        name: 'species',
        label: 'Species and grade, as stamped',
        blankIsText: true,
        maxLength: 60,
      },
      { kind: 'length', name: 'thicknessIn', label: 'Along the fastener' },
      { kind: 'length', name: 'widthIn', label: 'Width of the face' },
      {
        kind: 'number',
        name: 'specificGravity',
        label: 'Specific gravity',
        hint: 'NDS Table 12.3.3A: DF-L 0.50, SP 0.55, HF 0.43, SPF 0.42.',
        when: { field: 'material', is: ['wood'] },
      },
      {
        kind: 'number',
        name: 'angleDeg',
        label: 'Load to grain',
        unit: 'deg',
        hint: '0 along the grain, 90 across it.',
      },
      {
        kind: 'number',
        name: 'ePsi',
        label: 'Modulus of elasticity E',
        unit: 'psi',
        hint: 'Needed for bolts, lags and screws of 1/4 in and more.',
        optional: true,
      },
      {
        kind: 'number',
        name: 'ultimatePsi',
        label: 'Tensile strength Fu',
        unit: 'psi',
        hint: 'Only where the steel is stronger than usual.',
        optional: true,
        when: { field: 'material', is: ['steel'] },
      },
    ],
  },
  {
    kind: 'group',
    label: 'How they lie',
    fields: [
      {
        kind: 'select',
        name: 'layup',
        label: 'Fastened',
        options: same(['each to the next', 'through']),
      },
      {
        kind: 'length',
        name: 'betweenIn',
        label: 'Between the pieces',
        hint: 'Sheathing, gypsum or shim; 0" where they touch.',
      },
    ],
  },
  {
    kind: 'group',
    label: 'Fastener',
    hint: 'By diameter and length: penny names mislead.',
    prefix: 'fastener',
    fields: [
      {
        kind: 'select',
        name: 'kind',
        label: 'Kind',
        options: same(['nail', 'wood screw', 'lag screw', 'bolt', 'structural screw']),
      },
      {
        kind: 'select',
        name: 'style',
        label: 'Nail',
        options: same(['common', 'box', 'sinker', 'pneumatic', 'connector', 'duplex']),
        when: { field: 'kind', is: ['nail'] },
      },
      {
        kind: 'number',
        name: 'gauge',
        label: 'Gauge',
        whole: true,
        when: { field: 'kind', is: ['wood screw'] },
      },
      {
        kind: 'length',
        name: 'diameterIn',
        label: 'Diameter',
        example: '0.162"',
        when: { field: 'kind', is: ['nail', 'lag screw', 'bolt', 'structural screw'] },
      },
      { kind: 'length', name: 'lengthIn', label: 'Length', example: '3 1/2"' },
      {
        kind: 'group',
        label: 'By its report',
        when: { field: 'kind', is: ['structural screw'] },
        fields: [
          { kind: 'text', name: 'report', label: 'Report', maxLength: 120 },
          { kind: 'length', name: 'rootDiameterIn', label: 'Root diameter' },
          { kind: 'length', name: 'threadLengthIn', label: 'Thread length' },
          { kind: 'length', name: 'tipLengthIn', label: 'Tip length' },
          { kind: 'length', name: 'headDiameterIn', label: 'Head diameter', optional: true },
          { kind: 'number', name: 'fybPsi', label: 'Bending yield strength', unit: 'psi' },
          { kind: 'number', name: 'lateralLb', label: 'Lateral value', unit: 'lb', optional: true },
          {
            kind: 'number',
            name: 'withdrawalLbPerIn',
            label: 'Withdrawal',
            unit: 'lb/in',
            optional: true,
          },
          {
            kind: 'number',
            name: 'pullThroughLb',
            label: 'Head pull-through',
            unit: 'lb',
            optional: true,
          },
          { kind: 'checkbox', name: 'coversBuiltUpColumns', label: 'The report covers built-up columns' },
        ],
      },
    ],
  },
  {
    kind: 'group',
    label: 'Driven',
    fields: [
      { kind: 'select', name: 'method', label: 'Method', options: same(['face', 'end', 'toe']) },
      {
        kind: 'select',
        name: 'driven',
        label: 'From',
        options: same(['one side', 'both sides', 'alternating sides']),
      },
      { kind: 'checkbox', name: 'prebored', label: 'Holes are bored first' },
      { kind: 'checkbox', name: 'inDiaphragm', label: 'It is diaphragm nailing' },
    ],
  },
  {
    kind: 'group',
    label: 'Pattern',
    prefix: 'pattern',
    fields: [
      {
        kind: 'select',
        name: 'kind',
        label: 'Given as',
        options: [
          { value: 'spaced', text: 'rows at a spacing' },
          { value: 'count', text: 'a count in the joint' },
        ],
      },
      {
        kind: 'number',
        name: 'count',
        label: 'Count',
        whole: true,
        when: { field: 'kind', is: ['count'] },
      },
      {
        kind: 'length',
        name: 'lengthIn',
        label: 'Length of the rows',
        when: { field: 'kind', is: ['spaced'] },
      },
      { kind: 'number', name: 'rows', label: 'Rows', whole: true },
      { kind: 'length', name: 'spacingIn', label: 'Spacing in a row' },
      { kind: 'length', name: 'rowSpacingIn', label: 'Between rows', hint: '0" for one row.' },
      { kind: 'checkbox', name: 'staggered', label: 'Staggered' },
    ],
  },
  {
    kind: 'group',
    label: 'Distances',
    fields: [
      { kind: 'length', name: 'edgeDistanceIn', label: 'Edge to the first row' },
      { kind: 'length', name: 'endDistanceIn', label: 'End to the first fastener' },
      {
        kind: 'select',
        name: 'endLoading',
        label: 'The end is loaded in',
        options: same(['across grain', 'tension', 'compression']),
      },
      {
        kind: 'select',
        name: 'loadRuns',
        label: 'The load runs',
        options: same(['across rows', 'along rows']),
      },
    ],
  },
  {
    kind: 'group',
    label: 'Service',
    prefix: 'conditions',
    fields: [
      { kind: 'select', name: 'madeWhen', label: 'Wood when fastened', options: same(['dry', 'wet']) },
      { kind: 'select', name: 'usedWhen', label: 'Wood in use', options: same(['dry', 'wet']) },
      { kind: 'number', name: 'temperatureF', label: 'Temperature', unit: '°F' },
    ],
  },
];
