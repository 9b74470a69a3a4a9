import type { Survey } from '../proposal/survey.ts';
import type { Shoring } from '../proposal/design.ts';

export type StepId =
  | 'survey'
  | 'hazards'
  | 'utilities'
  | 'locate'
  | 'shore-below'
  | 'shore'
  | 'shore-above'
  | 'brace'
  | 'strongbacks'
  | 'snug'
  | 'accept'
  | 'footings'
  | 'footings-accepted'
  | 'open'
  | 'packs'
  | 'beam'
  | 'fasten'
  | 'transfer'
  | 'inspect'
  | 'release'
  | 'watch';

export interface WorkStep {
  readonly id: StepId;
  readonly title: string;
  readonly text: string;
  /** Steps that are done before this one starts. */
  readonly needs: readonly StepId[];
  /** Nothing after this step starts before the named person has accepted it. */
  readonly holdPoint?: {
    readonly acceptedBy: 'engineer' | 'inspector' | 'competent person';
    readonly asks: string;
  };
  /** Ids of `cautions` that belong to the step. */
  readonly cautions: readonly string[];
}

export interface SequenceInput {
  readonly survey: Pick<Survey, 'below' | 'storeysAbove' | 'braces' | 'landings'>;
  readonly shoring: Pick<Shoring, 'sides'>;
  /** New pads are poured. */
  readonly newPads: boolean;
}

/**
 * The order of work with its hold points, in an order that respects every prerequisite. Common practice, with the
 * survey and the utilities that 29 CFR 1926.850 asks for.
 */
export function workSequence(input: SequenceInput): readonly WorkStep[] {
  const { survey, newPads } = input;
  const framedBelow = survey.below !== 'slab';
  const steps: (WorkStep | false)[] = [
    {
      id: 'survey',
      title: 'Written survey of what is there',
      text: 'Framing, floors, walls, cracks and sags, what lands on the wall, neighbours. Photos before anything is touched.',
      needs: [],
      holdPoint: { acceptedBy: 'competent person', asks: 'The survey is written down and dated.' },
      cautions: ['survey', 'damaged'],
    },
    {
      id: 'hazards',
      title: 'Lead, asbestos, dust barrier',
      text: 'Results of the samples are in, the barrier is up, the floor is covered.',
      needs: ['survey'],
      cautions: ['dust'],
    },
    {
      id: 'utilities',
      title: 'Circuits, gas and water in the wall made dead',
      text: 'Trace, shut off, cap or move; prove dead at the wall; protect what stays in use.',
      needs: ['survey'],
      cautions: ['utilities'],
    },
    {
      id: 'locate',
      title: 'Find the joists and what is under the floor',
      text: 'Mark every joist on the ceiling and, on framed floors, every joist below; set out the temporary walls.',
      needs: ['survey'],
      cautions: ['collapse'],
    },
    framedBelow && {
      id: 'shore-below',
      title: 'Shore the floor below',
      text: 'Straight under both temporary walls, down to ground that carries. The lowest shores come first.',
      needs: ['locate'],
      cautions: ['collapse'],
    },
    {
      id: 'shore',
      title: input.shoring.sides === 'both' ? 'Build the temporary walls' : 'Build the temporary wall',
      text: 'Sole, plates and studs as calculated, studs plumb under the joists, past both ends of the new beam.',
      needs: ['hazards', 'utilities', 'locate', ...(framedBelow ? (['shore-below'] as const) : [])],
      cautions: ['collapse'],
    },
    survey.storeysAbove > 0 && {
      id: 'shore-above',
      title: 'Shore every storey above that hangs on the wall',
      text: 'Each straight over the temporary walls below, from the bottom up.',
      needs: ['shore'],
      cautions: ['collapse'],
    },
    {
      id: 'brace',
      title: 'Brace the temporary walls',
      text: 'Rows at mid-height as calculated, a diagonal in each wall and one square to it at each end, toes fastened.',
      needs: ['shore'],
      cautions: ['collapse'],
    },
    survey.braces.length > 0 && {
      id: 'strongbacks',
      title: 'Set the roof braces on strongbacks',
      text: 'Strongbacks over both temporary walls, studs under their ends, feet blocked against sliding; one brace at a time.',
      needs: ['brace', ...(survey.storeysAbove > 0 ? (['shore-above'] as const) : [])],
      cautions: ['collapse', 'jacking'],
    },
    {
      id: 'snug',
      title: 'Take up the load',
      text: 'Wedges or shims until the old wall can be freed, no further. Check ceilings and doors above.',
      needs: [
        'brace',
        ...(survey.storeysAbove > 0 ? (['shore-above'] as const) : []),
        ...(survey.braces.length > 0 ? (['strongbacks'] as const) : []),
      ],
      cautions: ['jacking', 'stop'],
    },
    {
      id: 'accept',
      title: 'Shoring accepted',
      text: 'Against the approved plan: sides, storeys, studs, spacing, bracing, what it stands on, roof braces.',
      needs: ['snug'],
      holdPoint: {
        acceptedBy: 'engineer',
        asks: 'The shoring stands as approved. No stud of the old wall moves before this.',
      },
      cautions: ['collapse', 'stop'],
    },
    newPads && {
      id: 'footings',
      title: 'Open the floor and dig the pads',
      text: 'Tendons ruled out, services located; undisturbed soil, forms and depth as drawn.',
      needs: ['accept'],
      cautions: ['utilities', 'dust', 'stop'],
    },
    newPads && {
      id: 'footings-accepted',
      title: 'Excavation seen, pads poured and hard',
      text: 'Pour after the excavation has been seen; load the pads once the concrete has its strength.',
      needs: ['footings'],
      holdPoint: { acceptedBy: 'inspector', asks: 'The excavation is as drawn, before the pour.' },
      cautions: [],
    },
    {
      id: 'open',
      title: 'Take the old wall out',
      text: 'Covering first, look at what shows, then studs, from the middle outward. Cut plates and joists as marked.',
      needs: ['accept', ...(newPads ? (['footings-accepted'] as const) : [])],
      cautions: ['collapse', 'debris', 'openings', 'stop'],
    },
    {
      id: 'packs',
      title: 'Build the packs',
      text: 'Jacks and kings as scheduled, tight on their plate, continuous to what is below.',
      needs: ['open'],
      cautions: [],
    },
    {
      id: 'beam',
      title: 'Set the beam',
      text: 'Stamps checked, crown up, full bearing at both ends, held against rolling over.',
      needs: ['packs'],
      cautions: ['lifting'],
    },
    {
      id: 'fasten',
      title: 'Fasten everything',
      text: 'Plies, hangers, packs, straps: each row of the schedule, in full, while the shoring still carries.',
      needs: ['beam'],
      cautions: [],
    },
    {
      id: 'transfer',
      title: 'Framing accepted with the shoring in place',
      text: 'Beam, bearing, packs and every fastening row seen.',
      needs: ['fasten'],
      holdPoint: {
        acceptedBy: 'inspector',
        asks: 'Everything under the beam is complete before the load comes on it.',
      },
      cautions: [],
    },
    {
      id: 'release',
      title: 'Let the load down',
      text: 'A little at a time, alternately on both sides and both ends; upper storeys first, the lowest shores last.',
      needs: ['transfer'],
      cautions: ['jacking', 'stop'],
    },
    {
      id: 'watch',
      title: 'Watch it',
      text: 'Measure the sag at midspan on the day and a week later; close the ceiling after that.',
      needs: ['release'],
      cautions: ['stop'],
    },
  ];
  return steps.filter((step): step is WorkStep => step !== false);
}
