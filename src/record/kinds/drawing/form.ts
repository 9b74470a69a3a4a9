import type { KindForm } from '../form.ts';

export const drawingForm: KindForm = {
  kind: 'drawing',
  name: (there) => ({ key: `A-${101 + there.length}`, title: `Drawing A-${101 + there.length}` }),
  start: () => ({ revision: 'A', drawnOn: new Date().toISOString().slice(0, 10) }),
  spec: {
    fields: [
      { kind: 'text', name: 'name', label: 'What it shows', maxLength: 120 },
      { kind: 'text', name: 'revision', label: 'Revision', maxLength: 20 },
      { kind: 'text', name: 'drawnOn', label: 'Date', example: '2026-11-25', maxLength: 10 },
      { kind: 'text', name: 'issuedBy', label: 'Issued by', maxLength: 120 },
      {
        kind: 'text',
        name: 'sha256',
        label: 'File',
        hint: 'The 64-digit hash shown under the uploaded drawing.',
        maxLength: 64,
      },
      { kind: 'textarea', name: 'note', label: 'Note', optional: true, maxLength: 2000 },
    ],
  },
};
