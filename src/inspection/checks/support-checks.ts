import { footingSchema, supportSchema, type Support } from '../../engineering/proposal/design.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { packWords } from '../../record/kinds/support/kind.ts';
import { holdPoints, type CheckRule } from './check.ts';
import { studChecks } from './wall-checks.ts';

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
    ...underThePack(support),
    ...studChecks(support),
  ];
}

/** Blocks through the floor and a post below: the load goes on down to the soil, and each piece of it is counted. */
function underThePack({ end, squashBlocks, girderPost }: Support): CheckRule[] {
  const framing = { visitKind: 'framing', holdPoint: holdPoints.shoringOut, photoRequired: true } as const;
  const checks: CheckRule[] = [];
  if (squashBlocks !== undefined) {
    const { count, size, species, grade, heightIn, on } = squashBlocks;
    checks.push({
      ...framing,
      rule: 'squash-blocks',
      title: `Blocks through the floor, ${end} end`,
      criterion: `${count} ${size} ${species} ${grade} on end, ${inches(heightIn)} high, tight between the plate above and the ${on.size} ${on.species} ${on.grade} below, right under the pack.`,
      clause: 'NDS 3.10, IRC R502.1',
      howToLook:
        'Look into the joist space from the side; count, and try a knife above and below each block.',
    });
  }
  if (girderPost !== undefined) {
    const { size, species, grade, girder, offPostIn } = girderPost;
    checks.push({
      ...framing,
      rule: 'girder-post',
      title: `Post below, ${end} end`,
      criterion: `${size} ${species} ${grade} post under the ${girder.plies}-ply ${girder.size} girder, its middle ${inches(offPostIn)} from the middle of the pack, plumb, held at top and bottom, on its footing.`,
      clause: 'IRC R502.9, R407.3',
      howToLook:
        'Tape along the girder from the pack to the post; look for a fixing at both ends of the post.',
    });
  }
  return checks;
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
