/**
 * Which provisions for fasteners are worked out, and which are refused with a sentence. The documentation
 * prints this table; a test holds each entry that can be tried to what the program does.
 */
export interface Provision {
  readonly section: string;
  readonly subject: string;
  readonly status: 'implemented' | 'advice' | 'declared by the user' | 'refused';
  /** Where it lives, or the sentence with which it is refused. */
  readonly answer: string;
}

export const PROVISIONS: readonly Provision[] = [
  {
    section: 'NDS 11.3.2',
    subject: 'Load duration of connections, at most 1.6',
    status: 'implemented',
    answer: 'connectionDurationFactor',
  },
  {
    section: 'NDS 11.3.3',
    subject: 'Wet service',
    status: 'implemented',
    answer: 'lateralWetFactor, withdrawalWetFactor',
  },
  {
    section: 'NDS 11.3.4',
    subject: 'Temperature up to 150 °F',
    status: 'implemented',
    answer: 'temperatureFactor',
  },
  {
    section: 'NDS 11.3.4',
    subject: 'Sustained heat above 150 °F',
    status: 'refused',
    answer: 'Above 150 °F the standard gives no temperature factor (NDS Table 11.3.4).',
  },
  { section: 'NDS 11.3.6', subject: 'Group action', status: 'implemented', answer: 'groupActionFactor' },
  {
    section: 'NDS 12.1.2–12.1.6',
    subject: 'Bored holes for bolts, lag screws, wood screws and nails',
    status: 'advice',
    answer: 'preBore',
  },
  {
    section: 'NDS 12.1.6.3',
    subject: 'Toe-nail geometry: 30°, a third of the length',
    status: 'implemented',
    answer: 'penetration',
  },
  {
    section: 'NDS 12.1.6.4',
    subject: 'Penetration of nails: 6 D least, 10 D full',
    status: 'implemented',
    answer: 'penetrationRule',
  },
  {
    section: 'NDS C12.1.6.6',
    subject: 'Spacing of nails against splitting',
    status: 'advice',
    answer: 'recommendedNailSpacing',
  },
  {
    section: 'NDS 12.2.1–12.2.3',
    subject: 'Withdrawal of lag screws, wood screws and plain-shank nails',
    status: 'implemented',
    answer: 'referenceWithdrawal',
  },
  {
    section: 'NDS 12.2.3',
    subject: 'Ring-shank and other deformed nails in withdrawal',
    status: 'refused',
    answer:
      'Not held as a fastener: enter it as a plain nail of the same diameter, which is the lower value.',
  },
  {
    section: 'NDS 12.2',
    subject: 'Withdrawal of bolts',
    status: 'refused',
    answer:
      'A bolt does not withdraw: its washers bear. Check washer bearing (NDS 3.10) instead of withdrawal.',
  },
  {
    section: 'NDS 12.2.5',
    subject: 'Head pull-through of round heads',
    status: 'implemented',
    answer: 'headPullThroughLb',
  },
  {
    section: 'NDS 12.3.1',
    subject: 'Yield modes in single shear and symmetric double shear',
    status: 'implemented',
    answer: 'singleShear, doubleShear',
  },
  {
    section: 'NDS 12.3.1',
    subject: 'Double shear by screws',
    status: 'refused',
    answer: 'Double shear is worked out for bolts and nails only.',
  },
  {
    section: 'NDS 12.3.3–12.3.4',
    subject: 'Dowel bearing by specific gravity and angle; steel; concrete',
    status: 'implemented',
    answer: 'memberBearingPsi',
  },
  {
    section: 'NDS 12.3.3',
    subject: 'Wood outside specific gravity 0.30 to 0.80',
    status: 'refused',
    answer:
      'The specific gravity of the wood must lie between 0.30 and 0.80 (NDS Table 12.3.3A reaches 0.31 to 0.73).',
  },
  {
    section: 'NDS 12.3.7',
    subject: 'Root diameter of threaded and reduced-body fasteners',
    status: 'implemented',
    answer: 'dowelProperties',
  },
  {
    section: 'NDS 12.3.9',
    subject: 'Several shear planes: each as single shear, the lowest counts',
    status: 'implemented',
    answer: 'shearPlanesOf',
  },
  {
    section: 'NDS 12.4',
    subject: 'Lateral load and withdrawal together',
    status: 'implemented',
    answer: 'combinedResistanceLb',
  },
  {
    section: 'NDS 12.5.1',
    subject: 'Geometry factor, end, edge and row distances from 1/4 in',
    status: 'implemented',
    answer: 'distanceFindings',
  },
  { section: 'NDS 12.5.2', subject: 'End grain', status: 'implemented', answer: 'endGrainFactor' },
  { section: 'NDS 12.5.3', subject: 'Diaphragm factor', status: 'implemented', answer: 'diaphragmFactor' },
  { section: 'NDS 12.5.4', subject: 'Toe-nail factor', status: 'implemented', answer: 'toeNailFactor' },
  {
    section: 'NDS 13',
    subject: 'Split rings and shear plates',
    status: 'refused',
    answer: 'Not held as a fastener: the joint takes bolts, lag screws, nails or screws.',
  },
  {
    section: 'NDS 15.3.3, 15.3.4',
    subject: 'Fastening of built-up columns by nails and bolts',
    status: 'implemented',
    answer: 'judgeBuiltUpColumn',
  },
  {
    section: 'NDS 15.3',
    subject: 'Built-up columns by screws',
    status: 'declared by the user',
    answer:
      'NDS 15.3 joins built-up columns by nails or bolts; a screw counts only where its report says so.',
  },
  {
    section: 'Appendix E',
    subject: 'Local stresses in fastener groups (net section, row and group tear-out)',
    status: 'refused',
    answer:
      'Not worked out: rows of large bolts near the end of a tension piece are the engineer’s to check.',
  },
  {
    section: 'TR12',
    subject: 'Gap between members',
    status: 'refused',
    answer:
      'A layer between the pieces takes length only; the notice asks that it be fastened tight to the holding piece.',
  },
  {
    section: 'Listing',
    subject: 'Hangers, caps, straps',
    status: 'declared by the user',
    answer: 'Enter the listing (report, load down and up, nails) of the connector that will be used.',
  },
  {
    section: 'ACI 318-19 17',
    subject: 'Anchors in concrete',
    status: 'declared by the user',
    answer: 'Enter the declared shear and tension of the anchor in the concrete that was found.',
  },
  {
    section: 'IRC Table R602.3(1)',
    subject: 'Fastening schedule, rows of this job',
    status: 'implemented',
    answer: 'comparePrescriptive',
  },
  {
    section: 'IRC R602.6.1',
    subject: 'Strap over a cut top plate',
    status: 'implemented',
    answer: 'proposeTopPlate',
  },
  {
    section: 'IRC R802.5.2',
    subject: 'Rafter thrust across the beam',
    status: 'implemented',
    answer: 'rafterThrust',
  },
  {
    section: 'IRC R802.5.2.1',
    subject: 'Ties above the lower third of the roof',
    status: 'refused',
    answer:
      'Ties above the lower third of the roof do not hold the rafters’ feet: it takes a ridge beam (IRC R802.5.2.1).',
  },
  {
    section: 'IRC R502.8, R602.6',
    subject: 'Holes and notches in joists and studs',
    status: 'implemented',
    answer: 'checkJoistCut, checkStudCut',
  },
  {
    section: 'IRC P2603.2.1, E3802.1',
    subject: 'Steel plates before holes near the face',
    status: 'implemented',
    answer: 'checkShield',
  },
];

/** The table as Markdown, for the documentation. */
export function provisionsMarkdown(): string {
  const cell = (text: string): string => text.replaceAll('|', '\\|');
  const lines = PROVISIONS.map(
    ({ section, subject, status, answer }) =>
      `| ${cell(section)} | ${cell(subject)} | ${status} | ${cell(answer)} |`,
  );
  return [
    '| Section | Subject | Status | Where, or the sentence |',
    '| --- | --- | --- | --- |',
    ...lines,
    '',
  ].join('\n');
}
