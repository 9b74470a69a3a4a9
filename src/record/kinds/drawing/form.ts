import type { KindForm } from '../form.ts';

export const drawingForm: KindForm = {
  kind: 'drawing',
  name: (there) => ({ key: `A-${101 + there.length}`, title: `Drawing A-${101 + there.length}` }),
  start: (_grounds, _key, today) => ({ revision: 'A', drawnOn: today }),
  spec: {
    fields: [
      {
        kind: 'text',
        name: 'name',
        label: 'What it shows',
        example: 'Floor framing, existing',
        maxLength: 120,
      },
      { kind: 'text', name: 'revision', label: 'Revision', example: 'A', maxLength: 20 },
      { kind: 'text', name: 'drawnOn', label: 'Date', example: '2026-11-25', maxLength: 10 },
      { kind: 'text', name: 'issuedBy', label: 'Issued by', example: 'R. T., contractor', maxLength: 120 },
      {
        kind: 'select',
        name: 'sha256',
        label: 'File',
        hint: 'PDF and PNG files uploaded to this opening or its items. Missing? Upload it on the opening’s page first.',
        options: [{ value: '', text: 'choose the file' }],
        optionsFrom: 'drawing files',
      },
      {
        kind: 'textarea',
        name: 'note',
        label: 'Note',
        example: 'Dimensions measured on site',
        optional: true,
        maxLength: 2000,
      },
    ],
  },
};
