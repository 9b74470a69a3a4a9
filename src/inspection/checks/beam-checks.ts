import { beamSchema } from '../../engineering/proposal/design.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { memberWords } from '../../record/kinds/beam/kind.ts';
import { holdPoints, type CheckRule } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

/** What an inspector looks at on a beam. */
export function beamChecks(content: unknown): CheckRule[] {
  const beam = beamSchema.parse(content);
  const { member } = beam;
  const framing = { visitKind: 'framing', holdPoint: holdPoints.shoringOut } as const;
  const checks: CheckRule[] = [
    {
      ...framing,
      rule: 'member',
      title: 'Beam as approved',
      criterion: `${memberWords(member)}; stamp and length as set, crown up, dry, no field notch or hole.`,
      clause: member.kind === 'steel' ? 'AISC 360' : 'NDS, IRC R502.1',
      howToLook: 'Read the stamp on each ply, count plies, tape the depth, walk the whole length.',
      photoRequired: true,
    },
    {
      ...framing,
      rule: 'bearing-left',
      title: 'Bearing at the left end',
      criterion: `${inches(beam.bearingLeftIn)} of beam on its support, full width, no shim gap.`,
      clause: 'IRC R502.6 (never less than 1 1/2 in on wood or steel, 3 in on masonry)',
      howToLook: 'Tape from the end of the beam to the face of the support.',
      photoRequired: true,
    },
    {
      ...framing,
      rule: 'bearing-right',
      title: 'Bearing at the right end',
      criterion: `${inches(beam.bearingRightIn)} of beam on its support, full width, no shim gap.`,
      clause: 'IRC R502.6 (never less than 1 1/2 in on wood or steel, 3 in on masonry)',
      howToLook: 'Tape from the end of the beam to the face of the support.',
      photoRequired: true,
    },
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
  ];
  if (beam.placement === 'flush') {
    checks.push({
      ...framing,
      rule: 'hangers',
      title: 'Joist hangers',
      criterion:
        'Every joist in its hanger, every hole filled with the nail of its listing, full-length nails where slanted, gap 1/8 in at most.',
      clause: 'Listing of the hanger; IRC R502.6.2',
      howToLook:
        'Look at each hanger, nail heads first; a short nail shows no head mark of its length: pull one in doubt.',
      photoRequired: true,
    });
  }
  return checks;
}
