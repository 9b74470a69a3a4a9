import { footingSchema, supportSchema } from '../../engineering/proposal/design.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { packWords } from '../../record/kinds/support/kind.ts';
import { holdPoints, type CheckRule } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

export function supportChecks(content: unknown): CheckRule[] {
  const support = supportSchema.parse(content);
  const framing = { visitKind: 'framing', holdPoint: holdPoints.shoringOut } as const;
  return [
    {
      ...framing,
      rule: 'pack',
      title: `Pack at the ${support.end} end`,
      criterion: `${packWords(support)}, tight, full height, ${support.fastening === 'not qualifying' ? 'each ply standing alone' : `plies ${support.fastening} as one column`}.`,
      clause: 'NDS 15.3, IRC R602.7.5',
      howToLook: 'Count jacks and kings, read the stamps, try a knife in the joints.',
      photoRequired: true,
    },
    {
      ...framing,
      rule: 'plate',
      title: `Plate under the ${support.end} pack`,
      criterion: `${support.plateSpecies} ${support.plateGrade} plate, not crushed; load goes on down to the footing without a gap.`,
      clause: 'NDS 3.10',
      howToLook: 'Look for crushing at the plate; follow the load down: blocks through any joist space.',
      photoRequired: false,
    },
  ];
}

export function footingChecks(content: unknown): CheckRule[] {
  const footing = footingSchema.parse(content);
  const before = { visitKind: 'footing', holdPoint: holdPoints.pour } as const;
  if (footing.pad === undefined) {
    return [
      {
        ...before,
        // Nothing is poured; what waits for this concrete is the load on it.
        holdPoint: holdPoints.shoringOut,
        rule: 'found',
        title: `Concrete under the ${footing.end} pack`,
        criterion: `${inches(footing.foundWidthIn)} wide and ${inches(footing.foundThicknessIn)} thick, as recorded (${footing.found}), sound, on undisturbed soil.`,
        clause: 'IRC R403.1',
        howToLook: 'Probe at several points; compare with the record.',
        photoRequired: true,
      },
    ];
  }
  const { lengthIn, widthIn, thicknessIn } = footing.pad;
  return [
    {
      ...before,
      rule: 'pit',
      title: `Pit for the ${footing.end} pad`,
      criterion: `${inches(lengthIn)} along and ${inches(widthIn)} across the wall, ${inches(thicknessIn)} deep, on undisturbed soil, clean and dry.`,
      clause: 'IRC R403.1, R109.1.1',
      howToLook: 'Tape length, width and depth; step on the bottom.',
      photoRequired: true,
    },
    {
      ...before,
      rule: 'tendons',
      title: `Slab cut at the ${footing.end} end`,
      criterion:
        footing.postTensioned === 'no'
          ? 'No tendon in the cut; edges clean.'
          : 'Not to be cut before a specialist has released it.',
      clause: 'common practice',
      howToLook: 'Look at the cut faces for a sheath or strand.',
      photoRequired: false,
    },
  ];
}
