import { beamSchema, type Beam } from '../../engineering/proposal/design.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { memberWords } from '../../record/kinds/beam/kind.ts';
import { holdPoints, type CheckRule } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });
const framing = { visitKind: 'framing', holdPoint: holdPoints.shoringOut } as const;

/** What an inspector looks at on a beam. */
export function beamChecks(content: unknown): CheckRule[] {
  const beam = beamSchema.parse(content);
  const { member } = beam;
  const cut =
    beam.endNotchIn === undefined || beam.endNotchIn === 0
      ? 'no field notch or hole'
      : `notched at the end by ${inches(beam.endNotchIn)} at most, no other notch or hole`;
  return [
    {
      ...framing,
      rule: 'member',
      title: 'Beam as approved',
      criterion: `${memberWords(member)}; stamp and length as set, crown up, dry, ${cut}.`,
      clause: member.kind === 'steel' ? 'AISC 360' : 'NDS, IRC R502.1',
      howToLook: 'Read the stamp on each ply, count plies, tape the depth, walk the whole length.',
      photoRequired: true,
    },
    bearing('left', beam.bearingLeftIn),
    bearing('right', beam.bearingRightIn),
    {
      ...framing,
      rule: 'held',
      title: 'Upper edge and ends held',
      criterion:
        beam.unbracedIn === undefined
          ? 'Joists hold the upper edge at every joist; ends held against rolling.'
          : `Upper edge held every ${inches(beam.unbracedIn)} at most; ends held against rolling.`,
      clause: 'NDS 3.3.3, 4.4.1',
      howToLook: 'Look along the upper edge; push at the ends.',
      photoRequired: false,
    },
    ...flitchBolts(beam),
    ...hangersInGeneral(beam),
  ];
}

function bearing(end: 'left' | 'right', lengthIn: number): CheckRule {
  return {
    ...framing,
    rule: `bearing-${end}`,
    title: `Bearing at the ${end} end`,
    criterion: `${inches(lengthIn)} of beam on its support, full width, no shim gap.`,
    clause: 'IRC R502.6 (never less than 1 1/2 in on wood or steel, 3 in on masonry)',
    howToLook: 'Tape from the end of the beam to the face of the support.',
    photoRequired: true,
  };
}

function flitchBolts({ member }: Beam): CheckRule[] {
  if (member.kind !== 'flitch') return [];
  const rows = member.boltRows === 1 ? 'in one row at mid-depth' : 'in two staggered rows';
  return [
    {
      ...framing,
      rule: 'flitch-bolts',
      title: 'Bolts through the plates',
      criterion: `${inches(member.boltDiameterIn)} bolts at ${inches(member.boltSpacingIn)} ${rows}, ${member.boltsAtEachEnd ?? 2} over each support; washers on wood, nuts tight.`,
      clause: 'NDS 12.1.3',
      howToLook: 'Count and tape along the beam; try the nuts; look for holes drilled too large.',
      photoRequired: true,
    },
  ];
}

/** Left out where hanger lines of the set say their own nails. */
function hangersInGeneral({ placement }: Beam): CheckRule[] {
  if (placement !== 'flush') return [];
  return [
    {
      ...framing,
      rule: 'hangers',
      title: 'Joist hangers',
      criterion:
        'Every joist in its hanger, every hole filled with the nail of its listing, full-length nails where slanted, gap 1/8 in at most.',
      clause: 'Listing of the hanger; IRC R502.6.2',
      howToLook:
        'Look at each hanger, nail heads first; a short nail shows no head mark of its length: pull one in doubt.',
      photoRequired: true,
    },
  ];
}
