import { COMPOSITE_CLASSES } from '../../../engineering/materials/composite-lumber.ts';
import { optionsOf } from '../../../web/forms/choices.ts';
import type { KindForm } from '../form.ts';

/** Sawn and composite beams by one form; `member.kind` decides which boxes count. */
export const beamForm: KindForm = {
  kind: 'beam',
  name: () => ({ key: 'beam', title: 'Beam' }),
  start: () => ({
    placement: 'flush',
    'member.kind': 'composite',
    'member.class': 'LVL 2.0E',
    'member.thicknessIn': '1 3/4"',
    'member.depthIn': '11 7/8"',
    'member.plies': '3',
    bearingLeftIn: '4 1/2"',
    bearingRightIn: '4 1/2"',
  }),
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'placement',
        label: 'Where it goes',
        options: [
          { value: 'flush', text: 'flush: in the floor, joists hang from it' },
          { value: 'dropped', text: 'dropped: under the joists' },
        ],
      },
      {
        kind: 'group',
        label: 'Member',
        prefix: 'member',
        fields: [
          {
            kind: 'select',
            name: 'kind',
            label: 'Material',
            options: [
              { value: 'composite', text: 'composite lumber (LVL, PSL, LSL)' },
              { value: 'sawn', text: 'sawn lumber' },
              { value: 'glulam', text: 'glulam' },
              { value: 'steel', text: 'steel wide-flange' },
            ],
          },
          {
            kind: 'select',
            name: 'class',
            when: { field: 'kind', is: ['composite'] },
            label: 'Composite: class',
            options: optionsOf(COMPOSITE_CLASSES.map((one) => one.name)),
          },
          {
            kind: 'length',
            name: 'thicknessIn',
            when: { field: 'kind', is: ['composite'] },
            label: 'Composite: thickness of one ply',
            example: '1 3/4"',
          },
          {
            kind: 'length',
            name: 'depthIn',
            when: { field: 'kind', is: ['composite', 'glulam'] },
            label: 'Composite, glulam: depth',
            example: '11 7/8"',
          },
          {
            kind: 'select',
            name: 'species',
            when: { field: 'kind', is: ['sawn'] },
            label: 'Sawn: species',
            options: optionsOf(['DF-L', 'SP', 'HF', 'SPF']),
          },
          {
            kind: 'text',
            name: 'grade',
            when: { field: 'kind', is: ['sawn'] },
            label: 'Sawn: grade',
            example: 'No.2',
            maxLength: 40,
          },
          {
            kind: 'text',
            name: 'size',
            when: { field: 'kind', is: ['sawn'] },
            label: 'Sawn: nominal size',
            example: '2x10',
            maxLength: 6,
          },
          {
            kind: 'number',
            name: 'plies',
            when: { field: 'kind', is: ['sawn', 'composite'] },
            label: 'Sawn, composite: plies',
            whole: true,
          },
          {
            kind: 'length',
            name: 'widthIn',
            when: { field: 'kind', is: ['glulam'] },
            label: 'Glulam: width',
          },
          {
            kind: 'text',
            name: 'combination',
            when: { field: 'kind', is: ['glulam'] },
            label: 'Glulam: combination',
            example: '24F-V4',
            maxLength: 40,
          },
          {
            kind: 'text',
            name: 'shape',
            when: { field: 'kind', is: ['steel'] },
            label: 'Steel: shape',
            example: 'W8x18',
            maxLength: 8,
          },
          {
            kind: 'number',
            name: 'fyKsi',
            when: { field: 'kind', is: ['steel'] },
            label: 'Steel: Fy',
            unit: 'ksi',
            example: '50',
          },
        ],
      },
      {
        kind: 'length',
        name: 'bearingLeftIn',
        label: 'Bearing at the left end',
        hint: 'Length of beam on its jacks: three 2x jacks give 4 1/2".',
      },
      { kind: 'length', name: 'bearingRightIn', label: 'Bearing at the right end' },
      {
        kind: 'length',
        name: 'unbracedIn',
        label: 'Upper edge held every',
        hint: 'Left blank: the joist spacing of the survey.',
        optional: true,
      },
      {
        kind: 'length',
        name: 'endNotchIn',
        label: 'Notch at the ends',
        hint: 'Depth; best none.',
        optional: true,
      },
      { kind: 'checkbox', name: 'wet', label: 'It stays wet in service' },
    ],
  },
};
