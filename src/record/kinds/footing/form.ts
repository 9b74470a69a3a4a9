import type { KindForm } from '../form.ts';

export const footingForm: KindForm = {
  kind: 'footing',
  name: (there) =>
    there.includes('left')
      ? { key: 'right', title: 'Right footing' }
      : { key: 'left', title: 'Left footing' },
  start: (_grounds, key) => ({
    end: key === 'right' ? 'right' : 'left',
    found: 'nothing known',
    foundWidthIn: '0"',
    foundThicknessIn: '0"',
    postTensioned: 'unknown',
    concretePsi: '2500',
  }),
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'end',
        label: 'Under the pack at the',
        options: [
          { value: 'left', text: 'left end' },
          { value: 'right', text: 'right end' },
        ],
      },
      {
        kind: 'select',
        name: 'found',
        label: 'How it is known what is there',
        options: [
          { value: 'nothing known', text: 'nothing is known' },
          { value: 'plans', text: 'from the original plans' },
          { value: 'probed', text: 'probed, at several points' },
          { value: 'cored', text: 'cored' },
        ],
      },
      {
        kind: 'length',
        name: 'foundWidthIn',
        label: 'Width found',
        example: '16"',
        hint: '0" where nothing is known.',
      },
      { kind: 'length', name: 'foundThicknessIn', label: 'Thickness found', example: '9 3/4"' },
      {
        kind: 'select',
        name: 'postTensioned',
        label: 'Is the slab post-tensioned?',
        help: ['postTension'],
        hint: 'A cut tendon releases with deadly force. Look for a stamp at the garage, ask for the plans.',
        options: [
          { value: 'unknown', text: 'not known' },
          { value: 'no', text: 'no' },
          { value: 'yes', text: 'yes' },
        ],
      },
      { kind: 'number', name: 'concretePsi', label: 'Concrete f′c', example: '2500', unit: 'psi' },
      {
        kind: 'group',
        label: 'New pad',
        help: ['pad'],
        hint: 'Left blank: what was found has to do.',
        prefix: 'pad',
        optional: true,
        fields: [
          { kind: 'length', name: 'lengthIn', label: 'Along the wall', example: '30"' },
          { kind: 'length', name: 'widthIn', label: 'Across the wall', example: '30"' },
          { kind: 'length', name: 'thicknessIn', label: 'Thickness', example: '12"' },
        ],
      },
    ],
  },
};
