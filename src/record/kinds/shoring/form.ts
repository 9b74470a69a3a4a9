import type { Survey } from '../../../engineering/proposal/survey.ts';
import { optionsOf } from '../../../web/forms/choices.ts';
import type { KindForm } from '../form.ts';

export const shoringForm: KindForm = {
  kind: 'shoring',
  name: () => ({ key: 'shoring', title: 'Shoring plan' }),
  start(grounds) {
    const survey = grounds.get('survey') as Survey | undefined;
    return {
      sides: 'both',
      offsetIn: `2'-6"`,
      studSize: '2x4',
      species: 'SPF',
      grade: 'No.2',
      studSpacingIn: '16"',
      midHeightBracingIn: `4'`,
      topPlates: '2',
      soleOn: survey === undefined || survey.below === 'slab' ? 'slab' : 'joists across',
      storeysShored: String(Math.max(1, survey?.storeysAbove ?? 1)),
      ...((survey?.braces.length ?? 0) > 0 ? { bracesRelanded: 'yes' } : {}),
    };
  },
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'sides',
        label: 'Temporary walls',
        hint: 'Both sides, unless joists run on over the wall as one length and the engineer agrees.',
        options: [
          { value: 'both', text: 'both sides' },
          { value: 'front', text: 'front side' },
          { value: 'rear', text: 'rear side' },
        ],
      },
      {
        kind: 'length',
        name: 'offsetIn',
        label: 'Distance from the wall',
        help: ['temporaryWall'],
        hint: 'Far enough to set the beam, near enough that joists do not sag.',
        example: `2'-6"`,
      },
      {
        kind: 'group',
        label: 'Studs',
        fields: [
          { kind: 'text', name: 'studSize', label: 'Nominal size', example: '2x4', maxLength: 6 },
          {
            kind: 'select',
            name: 'species',
            label: 'Species',
            options: optionsOf(['DF-L', 'SP', 'HF', 'SPF']),
          },
          {
            kind: 'text',
            name: 'grade',
            label: 'Grade',
            hint: 'The plates and braces are ordered in it too; Stud is sold up to 10 ft only.',
            example: 'No.2 or Stud',
            maxLength: 40,
          },
          { kind: 'length', name: 'studSpacingIn', label: 'Every', example: '16"' },
          {
            kind: 'length',
            name: 'midHeightBracingIn',
            label: 'Braced about the weak axis every',
            help: ['weakAxis'],
            example: "4'",
            hint: '0" where nothing holds them between sole and plate.',
          },
          {
            kind: 'number',
            name: 'topPlates',
            label: 'Top plates',
            example: '2',
            unit: 'plates',
            whole: true,
          },
        ],
      },
      {
        kind: 'select',
        name: 'soleOn',
        label: 'What the sole stands on',
        options: [
          { value: 'slab', text: 'a slab on the ground' },
          { value: 'joists across', text: 'a framed floor whose joists run across the sole' },
          { value: 'joists along', text: 'a framed floor whose joists run along the sole' },
        ],
      },
      {
        kind: 'number',
        name: 'storeysShored',
        label: 'Storeys shored',
        help: ['storeys'],
        example: '2',
        unit: 'storeys',
        hint: 'Every storey that hangs on the wall, down to something that carries.',
        whole: true,
      },
      { kind: 'checkbox', name: 'bracesRelanded', label: 'Roof braces are set on strongbacks first' },
    ],
  },
};
