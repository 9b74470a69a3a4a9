import { PRESCRIPTIVE_ITEMS } from '../../../engineering/fasteners/irc-fastening-schedule.ts';
import { JOINTS } from '../../../engineering/fasteners/schedule/row.ts';
import type { Beam } from '../../../engineering/proposal/design.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { KindForm } from '../form.ts';

const same = (values: readonly string[]) => values.map((value) => ({ value, text: value }));

export const fasteningForm: KindForm = {
  kind: 'fastening',
  name: (there) => {
    let number = there.length + 1;
    while (there.includes(`N${number}`)) number += 1;
    return { key: `N${number}`, title: `Row N${number}` };
  },
  start(grounds, key) {
    const member = (grounds.get('beam') as Beam | undefined)?.member;
    const ply = member?.kind === 'composite' ? formatInches(member.thicknessIn, { to: 16 }) : '1 1/2"';
    const depth =
      member !== undefined && 'depthIn' in member ? formatInches(member.depthIn, { to: 16 }) : '9 1/4"';
    const piece = (row: number, name: string) => ({
      [`members.${row}.name`]: name,
      [`members.${row}.material`]: 'wood',
      [`members.${row}.species`]: member?.kind === 'composite' ? member.class : 'DF-L No.2',
      [`members.${row}.thicknessIn`]: ply,
      [`members.${row}.widthIn`]: depth,
      [`members.${row}.specificGravity`]: '0.5',
      [`members.${row}.angleDeg`]: '90',
    });
    return {
      id: key.toLowerCase(),
      joint: 'beam plies',
      where: 'Beam, full length',
      ...piece(0, 'outer ply'),
      ...piece(1, 'next ply'),
      layup: 'each to the next',
      betweenIn: '0"',
      'fastener.kind': 'nail',
      'fastener.style': 'common',
      'fastener.diameterIn': '0.162"',
      'fastener.lengthIn': '3 1/2"',
      method: 'face',
      driven: 'both sides',
      'pattern.kind': 'spaced',
      'pattern.lengthIn': '139"',
      'pattern.rows': '3',
      'pattern.spacingIn': '12"',
      'pattern.rowSpacingIn': '3"',
      'pattern.staggered': 'yes',
      edgeDistanceIn: '2"',
      endDistanceIn: '2 1/2"',
      endLoading: 'across grain',
      loadRuns: 'across rows',
      'conditions.madeWhen': 'dry',
      'conditions.usedWhen': 'dry',
      'conditions.temperatureF': '75',
      'demand.per': 'foot',
      'demand.durationFactor': '1.0',
      'demand.lateralPlf': '0',
      'demand.withdrawalPlf': '0',
      'demand.source': 'Side load of the beam',
      'basis.kind': 'yield limit',
      'basis.shear': 'single',
    };
  },
  spec: {
    fields: [
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
          { kind: 'text', name: 'species', label: 'Species and grade, as stamped', maxLength: 60 },
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
              { kind: 'number', name: 'fybPsi', label: 'Bending yield strength', unit: 'psi' },
              { kind: 'number', name: 'lateralLb', label: 'Lateral value', unit: 'lb', optional: true },
              {
                kind: 'number',
                name: 'withdrawalLbPerIn',
                label: 'Withdrawal',
                unit: 'lb/in',
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
            options: same(['single', 'double']),
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
        options: [{ value: '', text: 'none' }, ...same(PRESCRIPTIVE_ITEMS)],
      },
      { kind: 'textarea', name: 'note', label: 'Note', blankIsText: true, maxLength: 600 },
    ],
  },
};
