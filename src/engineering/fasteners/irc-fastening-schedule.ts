import { z } from 'zod';
import type { Provenance } from '../trace/index.ts';

/**
 * IRC Table R602.3(1), fastening schedule: the rows that a bearing-wall replacement meets. 2018/2021 wording;
 * 2024 is believed unchanged for these. Row numbers shift between editions, so items are named, not numbered;
 * `row` is the 2018 number. Held against records R602.3-1-*.
 */
export const PRESCRIPTIVE_ITEMS = [
  'blocking to top plate',
  'ceiling joist to top plate',
  'ceiling joist lap over partition',
  'ceiling joist to parallel rafter',
  'rafter to plate',
  'stud to stud',
  'abutting studs at corners',
  'built-up header',
  'continuous header to stud',
  'top plate to top plate',
  'top plate splice',
  'bottom plate to joist or rim',
  'plate to stud, toe',
  'plate to stud, end',
  'joist to sill, plate or girder',
  'rim or blocking to plate',
  'rim to joist',
  'built-up beam, along',
  'built-up beam, ends',
  'ledger strip',
  'top plate strap',
] as const;
export const prescriptiveItemSchema = z.enum(PRESCRIPTIVE_ITEMS);
export type PrescriptiveItem = z.infer<typeof prescriptiveItemSchema>;

export interface PrescriptiveOption {
  /** As the table names it: '16d common (3.5 x 0.162)'. */
  readonly nail: string;
  readonly lengthIn: number;
  readonly diameterIn: number;
  /** So many in the joint … */
  readonly count?: number;
  /** … or so far apart, in on centre. */
  readonly spacingIn?: number;
  readonly provenance: Provenance;
}

export interface PrescriptiveRow {
  readonly item: PrescriptiveItem;
  readonly row: string;
  /** Where it stands, if not in Table R602.3(1). */
  readonly section?: string;
  readonly description: string;
  readonly location: string;
  readonly options: readonly PrescriptiveOption[];
  /** Where the table sends the reader elsewhere. */
  readonly see?: string;
}

const NAILS = {
  '8d box': [2.5, 0.113, '8d box (2.5 x 0.113)'],
  '8d common': [2.5, 0.131, '8d common (2.5 x 0.131)'],
  '10d box': [3, 0.128, '10d box (3 x 0.128)'],
  '10d common': [3, 0.148, '10d common (3 x 0.148)'],
  '16d box': [3.5, 0.135, '16d box (3.5 x 0.135)'],
  '16d common': [3.5, 0.162, '16d common (3.5 x 0.162)'],
  '20d common': [4, 0.192, '20d common (4 x 0.192)'],
  '3 x 0.131': [3, 0.131, '3 x 0.131'],
  '10d strap': [1.5, 0.148, '10d (1-1/2 x 0.148)'],
} as const;
type NailName = keyof typeof NAILS;

function option(
  nail: NailName,
  how: { count: number } | { spacingIn: number },
  provenance: Provenance,
): PrescriptiveOption {
  const [lengthIn, diameterIn, text] = NAILS[nail];
  return { nail: text, lengthIn, diameterIn, ...how, provenance };
}
const each = (nail: NailName, count: number, provenance: Provenance): PrescriptiveOption =>
  option(nail, { count }, provenance);
const apart = (nail: NailName, spacingIn: number, provenance: Provenance): PrescriptiveOption =>
  option(nail, { spacingIn }, provenance);

const SEEN = 'seen';
const MEMORY = 'from memory';

export const FASTENING_SCHEDULE: readonly PrescriptiveRow[] = [
  {
    item: 'blocking to top plate',
    row: '1',
    description: 'Blocking between ceiling joists or rafters to top plate',
    location: 'toe nail, each end',
    options: [
      each('8d box', 4, SEEN),
      each('8d common', 3, SEEN),
      each('10d box', 3, SEEN),
      each('3 x 0.131', 3, SEEN),
    ],
  },
  {
    item: 'ceiling joist to top plate',
    row: '2',
    description: 'Ceiling joist to top plate',
    location: 'toe nail, per joist',
    options: [
      each('8d box', 4, SEEN),
      each('8d common', 3, SEEN),
      each('10d box', 3, SEEN),
      each('3 x 0.131', 3, SEEN),
    ],
  },
  {
    item: 'ceiling joist lap over partition',
    row: '3',
    description: 'Ceiling joist laps over partition (not attached to parallel rafter)',
    location: 'face nail',
    options: [each('10d box', 4, SEEN), each('16d common', 3, SEEN), each('3 x 0.131', 4, SEEN)],
  },
  {
    item: 'ceiling joist to parallel rafter',
    row: '4',
    description: 'Ceiling joist to parallel rafter (heel joint)',
    location: 'face nail',
    options: [],
    see: 'R802.5.2',
  },
  {
    item: 'rafter to plate',
    row: '6',
    description: 'Rafter or truss to plate',
    location: 'toe nail (two one side, one the other)',
    options: [
      each('16d box', 3, SEEN),
      each('10d common', 3, SEEN),
      each('10d box', 4, SEEN),
      each('3 x 0.131', 4, SEEN),
    ],
  },
  {
    item: 'stud to stud',
    row: '8',
    description: 'Stud to stud, not at braced wall panels',
    location: 'face nail',
    options: [apart('16d common', 24, MEMORY), apart('10d box', 16, MEMORY), apart('3 x 0.131', 16, MEMORY)],
  },
  {
    item: 'abutting studs at corners',
    row: '9',
    description: 'Abutting studs at intersecting wall corners (at braced wall panels)',
    location: 'face nail',
    options: [apart('16d box', 12, MEMORY), apart('3 x 0.131', 12, MEMORY), apart('16d common', 16, MEMORY)],
  },
  {
    item: 'built-up header',
    row: '10',
    description: 'Built-up header, 2 in to 2 in with 1/2 in spacer',
    location: 'face nail, each edge',
    options: [apart('16d common', 16, SEEN), apart('16d box', 12, MEMORY)],
  },
  {
    item: 'continuous header to stud',
    row: '11',
    description: 'Continuous header to stud',
    location: 'toe nail',
    options: [each('8d box', 5, MEMORY), each('8d common', 4, MEMORY), each('10d box', 4, MEMORY)],
  },
  {
    item: 'top plate to top plate',
    row: '13',
    description: 'Top plate to top plate',
    location: 'face nail',
    options: [apart('16d common', 16, MEMORY), apart('10d box', 12, MEMORY), apart('3 x 0.131', 12, MEMORY)],
  },
  {
    item: 'top plate splice',
    row: '14',
    description: 'Double top plate splice (SDC A–D2, braced wall lines under 25 ft)',
    location: 'face nail each side of end joint, lap 24 in min',
    options: [
      each('16d common', 8, MEMORY),
      each('16d box', 12, MEMORY),
      each('10d box', 12, MEMORY),
      each('3 x 0.131', 12, MEMORY),
    ],
  },
  {
    item: 'bottom plate to joist or rim',
    row: '15',
    description: 'Bottom plate to joist, rim or blocking, not at braced panels',
    location: 'face nail',
    options: [apart('16d common', 16, MEMORY), apart('16d box', 12, MEMORY), apart('3 x 0.131', 12, MEMORY)],
  },
  {
    item: 'plate to stud, toe',
    row: '17',
    description: 'Top or bottom plate to stud',
    location: 'toe nail',
    options: [
      each('8d box', 4, MEMORY),
      each('16d box', 3, MEMORY),
      each('8d common', 4, MEMORY),
      each('10d box', 4, MEMORY),
      each('3 x 0.131', 4, MEMORY),
    ],
  },
  {
    item: 'plate to stud, end',
    row: '17',
    description: 'Top or bottom plate to stud',
    location: 'end nail',
    options: [
      each('16d box', 3, MEMORY),
      each('16d common', 2, MEMORY),
      each('10d box', 3, MEMORY),
      each('3 x 0.131', 3, MEMORY),
    ],
  },
  {
    item: 'joist to sill, plate or girder',
    row: '22',
    description: 'Joist to sill, top plate or girder',
    location: 'toe nail',
    options: [
      each('8d box', 4, MEMORY),
      each('8d common', 3, MEMORY),
      each('10d box', 3, MEMORY),
      each('3 x 0.131', 3, MEMORY),
    ],
  },
  {
    item: 'rim or blocking to plate',
    row: '23',
    description: 'Rim joist or blocking to sill or top plate',
    location: 'toe nail',
    options: [
      apart('8d box', 4, MEMORY),
      apart('8d common', 6, MEMORY),
      apart('10d box', 6, MEMORY),
      apart('3 x 0.131', 6, MEMORY),
    ],
  },
  {
    item: 'rim to joist',
    row: '27',
    description: 'Band or rim joist to joist',
    location: 'end nail',
    options: [each('16d common', 3, MEMORY), each('10d box', 4, MEMORY), each('3 x 0.131', 4, MEMORY)],
  },
  {
    item: 'built-up beam, along',
    row: '28',
    description: 'Built-up girders and beams, 2 in layers',
    location: 'face nail, top and bottom, staggered on opposite sides',
    options: [apart('20d common', 32, MEMORY), apart('10d box', 24, MEMORY), apart('3 x 0.131', 24, MEMORY)],
  },
  {
    item: 'built-up beam, ends',
    row: '28',
    description: 'Built-up girders and beams, 2 in layers',
    location: 'ends and each splice',
    options: [each('20d common', 2, MEMORY), each('10d box', 3, MEMORY), each('3 x 0.131', 3, MEMORY)],
  },
  {
    item: 'ledger strip',
    row: '29',
    description: 'Ledger strip supporting joists or rafters',
    location: 'face nail, each joist or rafter',
    options: [
      each('16d box', 4, MEMORY),
      each('16d common', 3, MEMORY),
      each('10d box', 4, MEMORY),
      each('3 x 0.131', 4, MEMORY),
    ],
  },
  {
    item: 'top plate strap',
    row: '',
    section: 'R602.6.1',
    description: 'Top plate cut by more than half its width: steel tie 0.054 in (16 gauge) × 1-1/2 in',
    location: 'each side of the cut, tie 6 in past it',
    options: [each('10d strap', 8, MEMORY)],
  },
];

export function prescriptiveRow(item: PrescriptiveItem): PrescriptiveRow {
  const row = FASTENING_SCHEDULE.find((candidate) => candidate.item === item);
  if (row === undefined) throw new Error(`The fastening schedule has no row "${item}".`);
  return row;
}

/** '3 of 16d common (3.5 x 0.162)' or '16d common (3.5 x 0.162) at 16 in on centre'. */
export function optionText(choice: PrescriptiveOption): string {
  return choice.count === undefined
    ? `${choice.nail} at ${choice.spacingIn ?? 0} in on centre`
    : `${choice.count} of ${choice.nail}`;
}
