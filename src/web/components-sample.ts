import { qty } from '../engineering/trace/quantity.ts';
import { makeCheck, type Check } from '../engineering/trace/step.ts';
import { componentsDrawings } from './components-drawings.ts';
import { checkView } from './check-view.ts';
import {
  sampleFields,
  sampleIcons,
  sampleRows,
  sampleSpaces,
  sampleTones,
  sampleTypeSizes,
} from './components-tokens.ts';

const nds = (section: string) => ({ standard: 'NDS', edition: '2018', section }) as const;

/** A made-up beam, so that the page shows real traces; the figures are arithmetic on the values beside them. */
function sampleChecks(): Check[] {
  const momentLbIn = 146_400;
  const sectionModulusIn3 = 98.7;
  const bendingPsi = momentLbIn / sectionModulusIn3;
  const allowedPsi = 2200;
  return [
    makeCheck({
      id: 'sample.bending',
      title: 'Bending',
      clause: nds('3.3.1'),
      demand: qty(bendingPsi, 'psi'),
      capacity: qty(allowedPsi, 'psi'),
      governing: 'D + L',
      steps: [
        {
          id: 'sample.bending.fb',
          title: 'Bending stress',
          clause: nds('3.3-2'),
          formula: 'fb = M / S',
          values: { M: qty(momentLbIn, 'lb-in'), S: qty(sectionModulusIn3, 'in³') },
          result: qty(bendingPsi, 'psi'),
        },
        {
          id: 'sample.bending.allowed',
          title: 'Allowed bending stress',
          clause: { ...nds('Table 8.3.1'), provenance: 'from memory' },
          formula: 'Fb′ = Fb · CD',
          values: { Fb: qty(2200, 'psi'), CD: qty(1) },
          result: qty(allowedPsi, 'psi'),
          note: 'The compression edge is held at every joist.',
        },
      ],
    }),
    makeCheck({
      id: 'sample.bearing',
      title: 'Bearing of the plate under the left pack',
      clause: nds('3.10.2'),
      demand: qty(455, 'psi'),
      capacity: qty(405, 'psi'),
      governing: 'D + 0.75 L + 0.75 S',
      sentence: () =>
        'The plate crushes: 455 psi under two jacks, 405 psi allowed. Three jacks bring it to 303 psi.',
    }),
    makeCheck({
      id: 'sample.exact',
      title: 'Live load deflection',
      clause: { standard: 'IRC', edition: '2021', section: 'Table R301.7' },
      demand: qty(0.374, 'in'),
      capacity: qty(0.374, 'in'),
    }),
    makeCheck({
      id: 'sample.none',
      title: 'Uplift with nothing to hold it',
      clause: nds('12.2.3'),
      demand: qty(120, 'lb'),
      capacity: qty(0, 'lb'),
    }),
  ];
}

/** Everything the living page of components needs; no database, no clock. */
export function componentsSample() {
  return {
    sampleFields,
    sampleIcons,
    sampleRows,
    samplePage: { from: 51, to: 100, total: 131, entries: new Array<object>(50), next: '100' },
    sampleSpaces,
    sampleTones,
    sampleTypeSizes,
    statuses: [
      ['draft', 'open', 'proposed', 'partial', 'closed'],
      ['approved', 'revised', 'issued', 'pass', 'matched', 'within'],
      [
        'returned',
        'stale',
        'correction',
        'notReady',
        'noAccess',
        'stopWork',
        'held',
        'mismatched',
        'over',
        'blocked',
      ],
      ['superseded', 'withdrawn', 'notApplicable'],
    ],
    checks: sampleChecks().map(checkView),
    drawings: componentsDrawings(),
    emptyForm: { values: {}, errors: {} },
    filledForm: {
      values: {
        datum: 'Left cross wall, room face',
        openingFromIn: '1\'-8"',
        livePsf: '40',
        evidence: 'measured',
        overWall: 'lapped',
        tools: ['tape'],
      },
      errors: {},
    },
    wrongForm: {
      values: { spanIn: '12.6', spacingIn: '0', reason: '', side: '', agreed: '', size: '2x10' },
      errors: {
        spanIn: 'Write the span with its marks, as 12\'-6" or 150.5"; 12.6 could be either.',
        spacingIn: 'The joist spacing must be more than zero.',
        reason: 'Say what is wrong, so that the contractor can put it right.',
        side: 'Say on which side the brace lands.',
        agreed: 'Confirm that the shoring was seen.',
        size: 'No 2x10 of this grade in the catalogue.',
        photo: 'The photo is larger than 25 MB.',
        '': 'Someone else saved a newer version meanwhile.',
      },
    },
    evidence: [
      { value: 'measured', text: 'Measured', hint: 'On site, with a tape' },
      { value: 'from plans', text: 'From plans' },
      { value: 'assumed', text: 'Assumed', hint: 'The engineer sees these in a list' },
    ],
    overWall: [
      { value: 'lapped', text: 'Lapped: two lengths that end on the wall' },
      { value: 'continuous', text: 'Continuous: one length over the wall' },
    ],
    sizes: [
      { value: '2x8', text: '2x8' },
      { value: '2x10', text: '2x10' },
    ],
    facts: [
      { term: 'Member', detail: '3-ply 1 3/4 x 11 7/8 LVL 2.0E' },
      { term: 'Reaction, left', detail: '7,243 lb', note: 'D + 0.75 L + 0.75 S' },
      { term: 'Depth found', detail: null },
    ],
    timeline: [
      {
        when: '2021-05-03T09:14:00Z',
        whenText: 'May 3, 9:14 am',
        who: 'contractor',
        text: 'Beam proposed, version 1',
      },
      {
        when: '2021-05-04T16:40:00Z',
        whenText: 'May 4, 4:40 pm',
        who: 'engineer',
        text: 'Beam returned',
        detail: '40 psf: the room is not a sleeping room.',
        tone: 'act',
      },
      {
        when: '2021-05-06T08:02:00Z',
        whenText: 'May 6, 8:02 am',
        who: 'engineer',
        text: 'Beam approved, version 2',
        tone: 'good',
      },
    ],
    tableColumns: [
      'Row',
      'Joint',
      'Fastener',
      { text: 'Demand, lb', number: true },
      { text: 'Capacity, lb', number: true },
    ],
    tableRows: [
      ['N1', 'Ply to ply, both faces', '0.162 x 3 1/2 nail', '412', '530'],
      ['N4', 'Jacks to king', '0.162 x 3 1/2 nail', '96', '141'],
      ['N11', 'Joist tie strap', '0.148 x 1 1/2 nail', '655', '602'],
    ],
    longHash: '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08',
  };
}
