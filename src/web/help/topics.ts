import * as below from './drawings/below.ts';
import * as fastening from './drawings/fastening.ts';
import * as framing from './drawings/framing.ts';
import * as roof from './drawings/roof.ts';

/** What a person may ask at a field, answered in plain sentences with a small drawing. */
export interface Topic {
  readonly question: string;
  readonly words: readonly string[];
  /**
   * The clause that the word or the figure comes from; "Common practice" where it has none. A clause that was not read
   * says "(from memory)" behind it, as in the calculations.
   */
  readonly source: string;
  readonly drawing: () => string;
}

const PRACTICE = 'Common practice.';

/** One place for all of them: a field names its topics (`Asked.help` in src/web/forms/spec.ts). */
export const topics = {
  bearing: {
    question: 'How is bearing measured?',
    words: [
      'The length of beam that lies on its jacks, along the beam. Three jacks of 1 1/2" give 4 1/2".',
      'The code asks for 1 1/2" at the least; the calculation usually asks for more.',
    ],
    source: 'IRC R502.6 (from memory); NDS 3.10 (from memory).',
    drawing: framing.bearing,
  },
  brace: {
    question: 'What is a roof brace?',
    words: [
      'A piece of wood in the attic, from under the rafters down to the top of this wall. It brings a part of the roof onto one place of the wall.',
      'Look along the whole wall from the attic, and write down each one by itself.',
    ],
    source: 'IRC R802.4.5.',
    drawing: roof.brace,
  },
  braceArea: {
    question: 'Which roof area belongs to a brace?',
    words: [
      'Half the way to the next brace on each side, times half the way from the purlin to the eave and to the ridge. Measure it level, as seen from above.',
    ],
    source: 'Common practice; ASCE 7 chapter 4 (from memory).',
    drawing: roof.braceArea,
  },
  datum: {
    question: 'Where do I measure from?',
    words: [
      'From one face that stays, at one end of the wall: a cross wall, for instance. Every position is read from there, on one tape. Say which face it is.',
    ],
    source: PRACTICE,
    drawing: framing.datum,
  },
  deflection: {
    question: 'What does span ÷ 360 mean?',
    words: [
      'How far the beam may sag: its span divided by this number. A larger number is a stiffer beam.',
      'Floors: 360 under live load. Many builders ask for 480 under tile.',
    ],
    source: 'IRC Table R301.7.',
    drawing: fastening.deflection,
  },
  duration: {
    question: 'What is the load duration factor?',
    words: [
      'Wood carries more for a short time than for years. The factor goes by the shortest load in the combination.',
    ],
    source: 'NDS Table 2.3.2.',
    drawing: fastening.duration,
  },
  exposure: {
    question: 'Which exposure is this roof?',
    words: [
      'How well the wind sweeps snow off. Most houses in a street are partly exposed: 1.0.',
      'The figures in the drawing are for towns and woods; open country has its own row in the table.',
    ],
    source: 'ASCE 7 Table 7.3-1 (from memory), surface roughness B.',
    drawing: roof.exposure,
  },
  grain: {
    question: 'What is load to grain?',
    words: [
      'The angle between the load and the grain of this piece. Beams and joists: 90, across the grain.',
    ],
    source: 'NDS 12.3.3 (from memory).',
    drawing: fastening.grain,
  },
  hanger: {
    question: 'What is the listing of a hanger?',
    words: [
      'The test report of the hanger that you will buy says what it carries, with which nails. Copy the figures from there.',
      'A figure counts with those very nails, in every hole.',
    ],
    source: 'The report of the hanger; IRC R502.6.2 (from memory).',
    drawing: fastening.hangerNails,
  },
  holes: {
    question: 'Where may a joist be bored?',
    words: [
      'Not near its edges, and never notched in the middle third. Each hole entered here is held against the rule.',
    ],
    source: 'IRC R502.8.1 (from memory).',
    drawing: fastening.holes,
  },
  jack: {
    question: 'What are jacks, kings and the jamb?',
    words: [
      'A jack stands under the end of the beam and carries it. A king runs beside the end of the beam from plate to plate and holds it upright.',
      'Together they are the pack, or jamb, at one side of the opening.',
    ],
    source: 'IRC Table R602.7(1) (from memory); IRC Table R602.7.5 (from memory).',
    drawing: framing.jack,
  },
  nailRows: {
    question: 'How are rows and distances measured?',
    words: [
      'From the middle of one nail to the middle of the next. Staggered: every second row is moved by half the spacing.',
    ],
    source: 'NDS 12.5.1; NDS 15.3.3, built-up columns.',
    drawing: fastening.nailRows,
  },
  overWall: {
    question: 'Lapped or one length?',
    words: [
      'Look where the joists cross the wall. Two joists side by side, or a joint: lapped. The same joist on both sides without a joint: one length, which brings more load onto the wall.',
    ],
    source: 'Mechanics: two equal spans in one length press 1.25 times as much on the middle.',
    drawing: framing.overWall,
  },
  pad: {
    question: 'What is a pad?',
    words: [
      'A block of concrete under the pack that spreads its load over enough soil. Measure along the wall, across it, and down.',
    ],
    source: 'IRC R403.1.1 (from memory); ACI 318-19 chapter 14 (from memory).',
    drawing: below.pad,
  },
  pitch: {
    question: 'How is the rise of a roof measured?',
    words: ['Hold a level against a rafter: inches up for each 12 inches along the level.'],
    source: PRACTICE,
    drawing: roof.pitch,
  },
  placement: {
    question: 'Flush or dropped?',
    words: [
      'Flush gives a flat ceiling, and takes hangers and more shoring. Dropped is simpler to build, and leaves less headroom.',
    ],
    source: PRACTICE,
    drawing: framing.placement,
  },
  plies: {
    question: 'What is a ply?',
    words: ['One of the pieces that lie side by side in the beam, nailed or bolted together.'],
    source: PRACTICE,
    drawing: fastening.plies,
  },
  postTension: {
    question: 'How do I see that a slab is post-tensioned?',
    words: [
      'Steel cables in it were pulled tight after it was poured. Look for a stamp in the slab, round plugs along its edge, or the plans.',
      'Not sure? Cut nothing before it is scanned.',
    ],
    source: PRACTICE,
    drawing: below.postTension,
  },
  purlin: {
    question: 'What is a purlin, and how is it measured?',
    words: [
      'The piece that runs under the rafters half way up and stands on the braces. Distances of the roof are read level.',
    ],
    source: 'IRC R802.4.5.',
    drawing: roof.purlin,
  },
  sharedNeutral: {
    question: 'What is a shared neutral?',
    words: [
      'Two circuits that come back over one wire. One breaker off does not make it dead: switch off both, and test.',
    ],
    source: 'NEC 210.4 (from memory).',
    drawing: fastening.sharedNeutral,
  },
  squashBlocks: {
    question: 'What are squash blocks?',
    words: [
      'Short posts inside the depth of a floor, right under the pack. Without them the load crushes the floor instead of reaching what carries it.',
    ],
    source: PRACTICE,
    drawing: below.squashBlocks,
  },
  storeys: {
    question: 'Which storeys need shoring?',
    words: [
      'Every storey that hangs on the wall, one temporary wall under the other, down to a slab or a floor that was checked for it.',
    ],
    source: 'Common practice; the engineer judges the plan.',
    drawing: below.storeys,
  },
  strip: {
    question: 'What is a strip?',
    words: [
      'One run of joists or rafters that rest on the wall: the same size, spacing and span all along. The floor is one strip, the ceiling above another.',
      'Front and rear: the two sides of the wall, as you named them at the datum.',
    ],
    source: PRACTICE,
    drawing: framing.strip,
  },
  temporaryWall: {
    question: 'Where does a temporary wall stand?',
    words: [
      'Beside the wall, two to three feet off: room to set the beam, and joists that do not sag meanwhile.',
    ],
    source: PRACTICE,
    drawing: framing.temporaryWall,
  },
  thermal: {
    question: 'Which thermal factor?',
    words: ['A roof that stays cold keeps its snow. Insulation on the ceiling and a ventilated attic: 1.1.'],
    source: 'ASCE 7-16 Table 7.3-2 (from memory); 7-22 goes by the insulation.',
    drawing: roof.thermal,
  },
  tributary: {
    question: 'What is the tributary width?',
    words: [
      'How much floor hangs on the wall: half of the span in front of it and half of the span behind it. You enter the full spans; the halves are taken for you.',
    ],
    source: 'Mechanics of a simple span.',
    drawing: framing.tributary,
  },
  weakAxis: {
    question: 'What holds a stud sideways?',
    words: [
      'A stud bows first in its thin direction, along the wall. Sheathing, or blocking nailed between studs, holds it there.',
    ],
    source: 'NDS 3.7.1.',
    drawing: framing.weakAxis,
  },
} as const satisfies Record<string, Topic>;

export type TopicName = keyof typeof topics;

/** A topic as a page shows it. */
export function topicOf(name: TopicName): Topic & { readonly svg: string } {
  const topic: Topic = topics[name];
  return { ...topic, svg: topic.drawing() };
}
