import { holdPoints } from '../../inspection/checks/check.ts';

/** Whether a step is done is read from the record, or logged by the contractor. */
export type StepSource = 'record' | 'log';

export interface StepDefinition {
  readonly key: string;
  readonly title: string;
  /** The same to somebody who is no builder. */
  readonly plain: string;
  readonly from: StepSource;
  /** Keys of steps that have to be done first. */
  readonly needs: readonly string[];
  /** May the contractor say that this job does not have it? What keeps the house up never. */
  readonly mayBeOff: boolean;
  /** It is in the job only where checks of the approved set guard this step. */
  readonly onlyWhere?: string;
  /** The cautions shown at it, by their name in ../cautions.ts. */
  readonly cautionsOf?: string;
}

/**
 * The usual order of work when a beam takes the place of a bearing wall, from the permit to the final inspection
 * (common practice; the step that waits for an inspection waits for the list of the approved set).
 */
export const usualSteps = [
  {
    key: 'permit',
    title: 'Permit in hand',
    plain: 'The permit is there',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
  {
    key: 'hazards',
    title: 'Lead and asbestos looked for and dealt with',
    plain: 'Lead and asbestos are looked for and dealt with',
    from: 'log',
    needs: [],
    mayBeOff: true,
    cautionsOf: 'survey',
  },
  {
    key: 'set',
    title: 'Approved set issued',
    plain: 'The engineer has approved the plan',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
  {
    key: 'services',
    title: 'Circuits, pipes and ducts in the wall dealt with',
    plain: 'Cables and pipes in the wall are made safe',
    from: 'record',
    needs: [],
    mayBeOff: false,
    cautionsOf: 'services',
  },
  {
    key: 'material',
    title: 'Beam, packs and hangers on site, as called for',
    plain: 'The beam and all that belongs to it are here',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
  {
    key: 'shoring',
    title: 'Temporary walls built',
    plain: 'Temporary supports are put in',
    from: 'log',
    needs: ['permit', 'hazards', 'set'],
    mayBeOff: false,
    cautionsOf: 'shoring',
  },
  {
    key: 'shoring_accepted',
    title: 'Temporary walls accepted',
    plain: 'The temporary supports are looked at and accepted',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
  {
    key: 'dig',
    title: 'Footings dug, bars in',
    plain: 'The footings are dug',
    from: 'log',
    needs: ['permit', 'set'],
    mayBeOff: true,
    onlyWhere: holdPoints.pour,
    cautionsOf: 'footing',
  },
  {
    key: 'pour_accepted',
    title: 'Footings seen before the pour',
    plain: 'The footings are looked at before the concrete comes',
    from: 'record',
    needs: [],
    mayBeOff: false,
    onlyWhere: holdPoints.pour,
  },
  {
    key: 'pour',
    title: 'Footings poured',
    plain: 'The concrete is poured',
    from: 'log',
    needs: ['dig', 'pour_accepted'],
    mayBeOff: true,
    onlyWhere: holdPoints.pour,
    cautionsOf: 'footing',
  },
  {
    key: 'wall_out',
    title: 'Wall taken out',
    plain: 'The wall comes out',
    from: 'log',
    needs: ['permit', 'hazards', 'set', 'services', 'material', 'shoring', 'shoring_accepted'],
    mayBeOff: false,
    cautionsOf: 'shoring',
  },
  {
    key: 'beam_in',
    title: 'Beam set on its packs',
    plain: 'The beam goes in',
    from: 'log',
    needs: ['wall_out', 'pour'],
    mayBeOff: false,
    cautionsOf: 'beam',
  },
  {
    key: 'fastened',
    title: 'Packs, hangers and fasteners complete',
    plain: 'Everything is fastened to the beam',
    from: 'log',
    needs: ['beam_in'],
    mayBeOff: false,
  },
  {
    key: 'roughed',
    title: 'Services re-routed and roughed in',
    plain: 'Cables and pipes run in their new places',
    from: 'log',
    needs: ['wall_out'],
    mayBeOff: true,
    cautionsOf: 'electrical',
  },
  {
    key: 'framing_accepted',
    title: 'Framing accepted',
    plain: 'The inspector has accepted the new framing',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
  {
    key: 'shoring_out',
    title: 'Temporary walls taken out',
    plain: 'The temporary supports come out',
    from: 'log',
    needs: ['fastened', 'framing_accepted'],
    mayBeOff: false,
    cautionsOf: 'framing',
  },
  {
    key: 'cover_accepted',
    title: 'Released for cover',
    plain: 'What will be hidden has been looked at',
    from: 'record',
    needs: [],
    mayBeOff: false,
    onlyWhere: holdPoints.cover,
  },
  {
    key: 'covered',
    title: 'Framing covered',
    plain: 'Walls and ceiling are closed',
    from: 'log',
    needs: ['fastened', 'roughed', 'cover_accepted'],
    mayBeOff: false,
  },
  {
    key: 'final',
    title: 'Final inspection passed',
    plain: 'The last inspection has passed',
    from: 'record',
    needs: [],
    mayBeOff: false,
  },
] as const satisfies readonly StepDefinition[];

export type UsualStepKey = (typeof usualSteps)[number]['key'];

/** The step after which a wall no longer holds anything up. */
export const WALL_OUT = 'wall_out' satisfies UsualStepKey;
