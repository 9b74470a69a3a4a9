import { sawnSize } from '../../../engineering/materials/lumber-sizes.ts';
import type { Beam, Hanger } from '../../../engineering/proposal/design.ts';
import { belowJoistsIn } from '../../../engineering/proposal/hanger.ts';
import { memberDepthIn } from '../../../engineering/proposal/member-depth.ts';
import type { Survey } from '../../../engineering/proposal/survey.ts';
import { formatFeetInches } from '../../../engineering/units/index.ts';
import type { Field } from '../../../web/forms/spec.ts';
import { optionsOf } from '../../../web/forms/choices.ts';
import type { KindForm } from '../form.ts';

const species = optionsOf(['DF-L', 'SP', 'HF', 'SPF']);

/** Typed, so that a group left alone stays blank. */
const lumber: readonly Field[] = [
  { kind: 'text', name: 'species', label: 'Species', example: 'DF-L, SP, HF or SPF', maxLength: 40 },
  { kind: 'text', name: 'grade', label: 'Grade', example: 'No.2', maxLength: 40 },
  { kind: 'text', name: 'size', label: 'Nominal size', example: '2x6', maxLength: 6 },
];

/** Dressed thickness of a 2x. */
const PLY_IN = 1.5;

/** From the bottom plate to the underside of the beam. What a flush one hangs below its joists is known once a hanger says which they are. */
function heightFrom(survey: Survey | undefined, beam: Beam | undefined, hanger: Hanger | undefined): string {
  if (survey === undefined) return '';
  return formatFeetInches(survey.wallHeightIn - hangsIn(beam, hanger) - PLY_IN, { to: 16 });
}

function hangsIn(beam: Beam | undefined, hanger: Hanger | undefined): number {
  if (beam === undefined) return 0;
  if (beam.placement === 'dropped') return memberDepthIn(beam.member);
  return hanger === undefined
    ? 0
    : belowJoistsIn(beam.member, sawnSize(hanger.joistSize, 'joistSize').widthIn);
}

/** As many jacks as the beam counts on for its bearing at that end, side by side; two where no beam is entered. */
function jacksFrom(beam: Beam | undefined, end: 'left' | 'right'): string {
  if (beam === undefined) return '2';
  const bearingIn = end === 'left' ? beam.bearingLeftIn : beam.bearingRightIn;
  return String(Math.max(1, Math.ceil(bearingIn / PLY_IN - 1e-9)));
}

export const supportForm: KindForm = {
  kind: 'support',
  name: (there) =>
    there.includes('left')
      ? { key: 'right', title: 'Right support' }
      : { key: 'left', title: 'Left support' },
  start: (grounds, key) => ({
    end: key === 'right' ? 'right' : 'left',
    kind: 'built-up',
    species: 'DF-L',
    grade: 'No.2',
    size: ((grounds.get('survey') as Survey | undefined)?.wallThicknessIn ?? 3.5) > 4 ? '2x6' : '2x4',
    jacks: jacksFrom(grounds.get('beam') as Beam | undefined, key === 'right' ? 'right' : 'left'),
    kings: '1',
    heightIn: heightFrom(
      grounds.get('survey') as Survey | undefined,
      grounds.get('beam') as Beam | undefined,
      grounds.get('hanger') as Hanger | undefined,
    ),
    fastening: 'nailed',
    plateSpecies: 'HF',
    plateGrade: 'No.2',
  }),
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'end',
        label: 'End of the beam',
        options: [
          { value: 'left', text: 'left' },
          { value: 'right', text: 'right' },
        ],
      },
      {
        kind: 'select',
        name: 'kind',
        label: 'Made of',
        options: [
          { value: 'built-up', text: 'jacks and kings, as one pack' },
          { value: 'post', text: 'a solid post' },
        ],
      },
      { kind: 'select', name: 'species', label: 'Species', options: species },
      { kind: 'text', name: 'grade', label: 'Grade', example: 'No.2 or Stud', maxLength: 40 },
      { kind: 'text', name: 'size', label: 'Nominal size', example: '2x6', maxLength: 6 },
      {
        kind: 'number',
        name: 'jacks',
        label: 'Jacks under the beam',
        help: ['jack'],
        example: '2',
        unit: 'jacks',
        whole: true,
      },
      { kind: 'number', name: 'kings', label: 'Kings beside it', example: '1', unit: 'kings', whole: true },
      {
        kind: 'length',
        name: 'heightIn',
        label: 'Height of the jacks',
        example: '7\'-11 5/8"',
        hint: 'Underside of the beam to the top of the bottom plate. A flush beam deeper than its joists hangs below them: so much less.',
      },
      {
        kind: 'length',
        name: 'bracedWeakAxisIn',
        label: 'Held along the wall every',
        help: ['weakAxis'],
        example: '4\'-0"',
        hint: 'By sheathing or blocking; left blank: not held.',
        optional: true,
      },
      {
        kind: 'select',
        name: 'fastening',
        label: 'Plies joined',
        options: [
          { value: 'nailed', text: 'nailed as NDS 15.3.3 asks' },
          { value: 'bolted', text: 'bolted as NDS 15.3.4 asks' },
          { value: 'not qualifying', text: 'otherwise: each ply is judged alone' },
        ],
      },
      { kind: 'select', name: 'plateSpecies', label: 'Plate under the pack: species', options: species },
      { kind: 'text', name: 'plateGrade', label: 'Plate: grade', example: 'No.2', maxLength: 40 },
      {
        kind: 'length',
        name: 'eccentricityIn',
        label: 'Load off the centre by',
        example: '1/2"',
        optional: true,
      },
      {
        kind: 'group',
        label: 'Squash blocks through the floor',
        help: ['squashBlocks'],
        hint: 'Where the pack does not stand on concrete. Leave all of it blank for none.',
        prefix: 'squashBlocks',
        optional: true,
        fields: [
          ...lumber,
          { kind: 'number', name: 'count', label: 'How many', example: '3', unit: 'blocks', whole: true },
          { kind: 'length', name: 'heightIn', label: 'Depth of the floor', example: '9 1/4"' },
          { kind: 'group', label: 'They stand on', prefix: 'on', fields: lumber },
          {
            kind: 'length',
            name: 'endDistanceIn',
            label: 'From them to the end of that wood',
            example: '6"',
          },
        ],
      },
      {
        kind: 'group',
        label: 'Post under a girder below',
        hint: 'Crawl space or basement. Leave all of it blank for none.',
        prefix: 'girderPost',
        optional: true,
        fields: [
          ...lumber,
          { kind: 'length', name: 'heightIn', label: 'Height of the post', example: '3\'-0"' },
          {
            kind: 'group',
            label: 'The girder',
            prefix: 'girder',
            fields: [
              ...lumber,
              { kind: 'number', name: 'plies', label: 'Plies', example: '3', unit: 'plies', whole: true },
            ],
          },
          {
            kind: 'length',
            name: 'girderEndDistanceIn',
            label: 'From the post to the end of the girder',
            example: '4"',
          },
          {
            kind: 'length',
            name: 'offPostIn',
            label: 'From the middle of the pack to the middle of the post',
            example: '2\'-0"',
          },
        ],
      },
    ],
  },
};
