import {
  awgSizes,
  conductorMetals,
  serviceTitle,
  type Service,
} from '../../../engineering/services/index.ts';
import { optionsOf } from '../../../web/forms/choices.ts';
import type { Field, Option } from '../../../web/forms/spec.ts';
import type { KindForm } from '../form.ts';

const sizes: Option[] = awgSizes.map((value) => ({
  value,
  text: value === 'not read' ? value : `${value} AWG`,
}));
const unchanged: Option = { value: '', text: 'nothing changes' };
const pipeOrGas = { field: 'what', is: ['pipe', 'gas'] } as const;
const circuitOnly = { field: 'what', is: ['circuit'] } as const;

const circuitFields: Field[] = [
  {
    kind: 'text',
    name: 'breaker',
    label: 'Breaker',
    hint: 'Its number at the panel; both for two poles.',
    example: '13+15',
    maxLength: 20,
    when: circuitOnly,
  },
  {
    kind: 'text',
    name: 'panelLabel',
    label: 'Label at the panel',
    example: 'Den',
    hint: 'As it is written there. Blank: unlabelled.',
    blankIsText: true,
    maxLength: 80,
    when: circuitOnly,
  },
  {
    kind: 'number',
    name: 'amps',
    label: 'Breaker rating',
    example: '15',
    unit: 'A',
    whole: true,
    when: circuitOnly,
  },
  { kind: 'select', name: 'poles', label: 'Poles', options: optionsOf(['1', '2', '3']), when: circuitOnly },
  { kind: 'select', name: 'awg', label: 'Conductor size', options: sizes, when: circuitOnly },
  {
    kind: 'select',
    name: 'conductor',
    label: 'Conductor metal',
    options: optionsOf(conductorMetals),
    when: circuitOnly,
  },
  {
    kind: 'text',
    name: 'cable',
    label: 'Cable type',
    example: '12-2 with ground',
    hint: 'As printed on the jacket.',
    blankIsText: true,
    maxLength: 60,
    when: circuitOnly,
  },
  {
    kind: 'select',
    name: 'protection',
    label: 'Arc-fault and ground-fault protection',
    options: optionsOf(['none', 'AFCI', 'GFCI', 'AFCI and GFCI', 'not read']),
    when: circuitOnly,
  },
  {
    kind: 'checkbox',
    name: 'multiWire',
    label: 'Multi-wire',
    hint: 'One neutral for two hot conductors.',
    when: circuitOnly,
  },
  {
    kind: 'checkbox',
    name: 'sharedNeutral',
    label: 'Neutral joined with another circuit’s',
    help: ['sharedNeutral'],
    when: circuitOnly,
  },
  {
    kind: 'number',
    name: 'boxes',
    label: 'Boxes in the wall',
    example: '2',
    unit: 'boxes',
    whole: true,
    when: circuitOnly,
  },
];

const otherFields: Field[] = [
  {
    kind: 'select',
    name: 'role',
    label: 'What it does',
    options: [
      { value: 'supply', text: 'supply' },
      { value: 'waste', text: 'pipe: waste' },
      { value: 'vent', text: 'pipe: vent' },
      { value: 'drain', text: 'pipe: drain' },
      { value: 'return', text: 'duct: return' },
      { value: 'exhaust', text: 'duct: exhaust' },
      { value: 'flue', text: 'duct: flue' },
    ],
    when: { field: 'what', is: ['pipe', 'duct'] },
  },
  { kind: 'length', name: 'sizeIn', label: 'Nominal size', example: '2"', when: pipeOrGas },
  {
    kind: 'text',
    name: 'size',
    label: 'Size',
    example: '6 in round',
    maxLength: 40,
    when: { field: 'what', is: ['duct'] },
  },
  {
    kind: 'text',
    name: 'material',
    label: 'Material',
    example: 'copper, or ABS',
    blankIsText: true,
    maxLength: 60,
    when: pipeOrGas,
  },
  {
    kind: 'text',
    name: 'shutOff',
    label: 'Where it is shut off',
    example: 'at the meter',
    blankIsText: true,
    maxLength: 120,
    when: { field: 'what', is: ['gas'] },
  },
];

const disposition: Field[] = [
  {
    kind: 'select',
    name: 'disposition',
    label: 'What becomes of it',
    options: [
      { value: 'not decided', text: 'not decided yet' },
      { value: 'kept', text: 'kept; a circuit: made up and kept live' },
      { value: 're-routed', text: 're-routed' },
      { value: 'extended', text: 'circuit: extended' },
      { value: 'removed', text: 'removed; a circuit: back to the panel' },
      { value: 'coiled', text: 'circuit: coiled for reuse' },
      { value: 'abandoned', text: 'left in place, dead and capped at both ends' },
    ],
  },
  {
    kind: 'length',
    name: 'coiledLengthIn',
    label: 'Cable left in the coil',
    example: '12\'-6"',
    optional: true,
    when: { field: 'disposition', is: ['coiled'] },
  },
  {
    kind: 'group',
    label: 'Breaker and cable after the work, where they change',
    prefix: 'after',
    optional: true,
    when: circuitOnly,
    fields: [
      { kind: 'number', name: 'amps', label: 'Breaker rating after', example: '15', unit: 'A', whole: true },
      { kind: 'select', name: 'awg', label: 'Conductor size after', options: [unchanged, ...sizes] },
      {
        kind: 'select',
        name: 'conductor',
        label: 'Conductor metal after',
        options: [unchanged, ...optionsOf(conductorMetals)],
      },
    ],
  },
];

const cuts: Field = {
  kind: 'list',
  name: 'cuts',
  label: 'Holes and notches for its new way',
  help: ['holes'],
  hint: 'Through joists and studs. Nobody bores the beam before the engineer has said where.',
  one: 'Hole or notch',
  max: 20,
  start: { through: 'joist', kind: 'hole', place: 'outer third', edgeIn: '' },
  fields: [
    { kind: 'select', name: 'through', label: 'Through', options: optionsOf(['joist', 'stud', 'beam']) },
    { kind: 'select', name: 'kind', label: 'Hole or notch', options: optionsOf(['hole', 'notch']) },
    { kind: 'length', name: 'sizeIn', label: 'Diameter, or depth of the notch', example: '7/8"' },
    {
      kind: 'length',
      name: 'memberDepthIn',
      label: 'Depth of the joist, or wide face of the stud',
      example: '9 1/4"',
    },
    {
      kind: 'select',
      name: 'place',
      label: 'Where along the joist',
      options: optionsOf(['end', 'outer third', 'middle third']),
    },
    { kind: 'length', name: 'edgeIn', label: 'Wood left to the nearer edge', example: '2"' },
    { kind: 'checkbox', name: 'bearingWall', label: 'Stud of a bearing or exterior wall' },
    { kind: 'checkbox', name: 'doubled', label: 'The stud is doubled' },
    { kind: 'checkbox', name: 'plated', label: 'A steel plate goes over it' },
  ],
};

/** The marks in use say what the next one is called: S1, S2, … */
function nextMark(there: readonly string[]): string {
  const numbers = there.flatMap((key) => (/^S\d{1,6}$/.test(key) ? [Number(key.slice(1))] : []));
  return `S${Math.max(0, ...numbers) + 1}`;
}

export const serviceForm: KindForm = {
  kind: 'service',
  list: 'services',
  name: (there) => ({ key: nextMark(there), title: '' }),
  titleFrom: (content) => serviceTitle(content as Service),
  start: () => ({
    what: 'circuit',
    poles: '1',
    awg: 'not read',
    conductor: 'not read',
    protection: 'not read',
    boxes: '0',
    run: 'not traced',
    disposition: 'not decided',
  }),
  spec: {
    fields: [
      {
        kind: 'select',
        name: 'what',
        label: 'What it is',
        options: [
          { value: 'circuit', text: 'circuit' },
          { value: 'pipe', text: 'pipe: waste, vent, supply' },
          { value: 'duct', text: 'duct or flue' },
          { value: 'gas', text: 'gas' },
        ],
      },
      ...circuitFields,
      ...otherFields,
      {
        kind: 'text',
        name: 'feeds',
        label: 'What it really feeds',
        hint: 'As traced. Blank: not traced yet.',
        blankIsText: true,
        maxLength: 200,
      },
      {
        kind: 'select',
        name: 'run',
        label: 'In this wall it',
        options: optionsOf(['not traced', 'passes through', 'ends here']),
      },
      {
        kind: 'length',
        name: 'positionIn',
        label: 'Place in the wall, from the datum',
        example: '4\'-6"',
        optional: true,
      },
      ...disposition,
      cuts,
      {
        kind: 'textarea',
        name: 'note',
        label: 'Note',
        example: 'Traced with a tone; dead-ends in the box by the door',
        rows: 2,
        blankIsText: true,
        maxLength: 2000,
      },
    ],
  },
};
