import type { Clause } from '../trace/index.ts';
import { osha, PRACTICE } from './clauses.ts';

export interface Caution {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  readonly clause: Clause;
}

/** What hurts people in this job, and when to stop. Plain words for the crew. */
export const cautions: readonly Caution[] = [
  {
    id: 'collapse',
    title: 'Collapse',
    text: 'Nobody cuts, notches or moves a load-carrying stud, plate or joist before the shoring stands, carries and is accepted. Stay out from under anything that is being let down.',
    clause: osha('1926.854(e)'),
  },
  {
    id: 'survey',
    title: 'Survey by a competent person',
    text: 'Before work starts a competent person looks at framing, floors, walls and what is next door, judges whether anything could come down unplanned, and writes it down.',
    clause: osha('1926.850(a)'),
  },
  {
    id: 'damaged',
    title: 'Damaged framing',
    text: 'Shore or brace damaged walls and floors before anybody works inside.',
    clause: osha('1926.850(b)'),
  },
  {
    id: 'utilities',
    title: 'Electricity, gas, water',
    text: 'Electric, gas, water, steam and sewer lines in the wall are shut off, capped or otherwise controlled before work, and their companies told. What has to stay in use is moved and protected. Prove every wire dead, do not believe the label.',
    clause: osha('1926.850(c), (d)'),
  },
  {
    id: 'openings',
    title: 'Holes in walls and floors',
    text: 'Guard openings that somebody could fall through to a height of 42 in.',
    clause: osha('1926.850(g)'),
  },
  {
    id: 'debris',
    title: 'Debris',
    text: 'Where debris drops without a chute, bar the area below: 42 in high, 6 ft from the edge of the opening.',
    clause: osha('1926.850(h)'),
  },
  {
    id: 'dust',
    title: 'Dust: lead and asbestos',
    text: 'Paint from before 1978 counts as lead until tested. Plaster, texture, tile and insulation are sampled for asbestos before they are broken. Sheet off the room, wet the work, wear a respirator that fits.',
    clause: PRACTICE,
  },
  {
    id: 'lifting',
    title: 'Lifting',
    text: 'Plan who lifts what before the beam is off the truck: ply by ply where it can be built in place, lifts or jacks on firm ground, hands clear of the seat.',
    clause: PRACTICE,
  },
  {
    id: 'jacking',
    title: 'Raising and letting down',
    text: 'Snug, not lifted: take the load up with wedges or shims by no more than it takes to free the wall, and let it down slowly, both ends alike. Listen.',
    clause: PRACTICE,
  },
  {
    id: 'stop',
    title: 'Stop and call the engineer if …',
    text: 'a crack opens or a door upstairs jams; a stud bows, a plate crushes, a joist splits or turns; the slab cracks under a shore; the wall holds something the drawings do not show (a steel post, a brace, a pipe, a splice); the loads or sizes are not as drawn; anything moves that should not.',
    clause: PRACTICE,
  },
];
