import type { Survey } from '../../../engineering/proposal/survey.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { KindForm } from '../form.ts';

/** The widest spacing of the joists that the survey found: what one hanger of the line carries at most. */
function spacingOf(survey: Survey | undefined): string {
  const joists = survey?.strips.filter((strip) => strip.carries !== 'roof') ?? [];
  return formatInches(Math.max(16, ...joists.map((strip) => strip.spacingIn)), { to: 16 });
}

export const hangerForm: KindForm = {
  kind: 'hanger',
  name: (there) =>
    there.includes('front')
      ? { key: 'rear', title: 'Hangers, rear face' }
      : { key: 'front', title: 'Hangers, front face' },
  start: (grounds, key) => ({
    side: key === 'rear' ? 'rear' : 'front',
    joistSize: '2x10',
    spacingIn: spacingOf(grounds.get('survey') as Survey | undefined),
    nailCount: '10',
    nailDiameterIn: '0.148"',
    nailLengthIn: '3"',
  }),
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'side',
        label: 'Face of the beam',
        options: [
          { value: 'front', text: 'front' },
          { value: 'rear', text: 'rear' },
        ],
      },
      { kind: 'text', name: 'joistSize', label: 'Joist, nominal size', example: '2x10', maxLength: 6 },
      { kind: 'length', name: 'spacingIn', label: 'Joists every', example: '16"' },
      {
        kind: 'group',
        label: 'Nails that will be driven',
        hint: 'Through one hanger, into beam and joist together. Every hole is filled.',
        fields: [
          {
            kind: 'number',
            name: 'nailCount',
            label: 'Nails a hanger',
            example: '10',
            unit: 'nails',
            whole: true,
          },
          { kind: 'length', name: 'nailDiameterIn', label: 'Nail diameter', example: '0.148"' },
          { kind: 'length', name: 'nailLengthIn', label: 'Nail length', example: '3"' },
        ],
      },
      {
        kind: 'group',
        label: 'Listing of the hanger',
        help: ['hanger'],
        hint: 'Copied from the evaluation report of the hanger that will be used. Left blank: a load and no capacity.',
        prefix: 'listing',
        optional: true,
        fields: [
          { kind: 'text', name: 'report', label: 'Report', hint: 'Number and date.', maxLength: 120 },
          { kind: 'number', name: 'downLb', label: 'Allowable load down', example: '1250', unit: 'lb' },
          { kind: 'number', name: 'upLb', label: 'Allowable uplift', example: '800', unit: 'lb' },
          {
            kind: 'number',
            name: 'nailsRequired',
            label: 'Nails it asks for',
            example: '10',
            unit: 'nails',
            whole: true,
          },
          { kind: 'length', name: 'nailDiameterIn', label: 'Their diameter', example: '0.148"' },
          { kind: 'length', name: 'nailLengthIn', label: 'Their length', example: '3"' },
          {
            kind: 'checkbox',
            name: 'shortNailsAllowed',
            label: 'The report allows 1 1/2" nails for these loads',
          },
        ],
      },
      {
        kind: 'textarea',
        name: 'note',
        label: 'Note',
        example: 'Slanted holes filled from below',
        optional: true,
        maxLength: 600,
      },
    ],
  },
};
