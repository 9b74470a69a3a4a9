import { beamSchema, supportSchema } from '../../engineering/proposal/design.ts';
import { sawnSize } from '../../engineering/materials/lumber-sizes.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { holdPoints, type CheckRule } from './check.ts';

/**
 * What the code asks of the wall around the beam, whatever was calculated: plates, studs, fire-blocking, nail plates,
 * alarms. Sections of the IRC and NEC are from memory; the adopted edition decides.
 */
export function wallChecks(beamContent: unknown, platesNamed: boolean): CheckRule[] {
  const beam = beamSchema.parse(beamContent);
  const dropped = beam.placement === 'dropped';
  return [
    ...(platesNamed ? [] : [cutPlates]),
    {
      rule: 'nail-plates',
      visitKind: 'electrical',
      title: 'Nail plates over cables and pipes',
      criterion:
        'Wherever the edge of a bored hole is less than 1 1/4 in from the face of the wood, or a cable lies in a notch: a steel plate 1/16 in thick, or listed thinner, over the whole width.',
      clause: 'NEC 300.4(A), IRC E3802.1, P2603.2.1 (from memory)',
      howToLook: 'Hold a 1 1/4 in gauge at each hole in studs, jacks, kings and plates around the opening.',
      photoRequired: true,
      holdPoint: holdPoints.cover,
    },
    {
      rule: 'fire-blocking',
      visitKind: 'cover',
      title: 'Fire-blocking',
      criterion: `Stud spaces closed at floor and ceiling level, ${dropped ? 'the soffit around the dropped beam closed off from the wall, ' : 'the joist spaces beside the beam closed off from the wall below, '}and each pipe, cable and duct sealed where it goes through a plate. Two-inch lumber, 3/4 in plywood with backed joints, 1/2 in gypsum board, or mineral wool held in place.`,
      clause: 'IRC R302.11, R302.11.1 (from memory)',
      howToLook: 'Look up into each stud space with a light; push at batts that serve as blocking.',
      photoRequired: true,
      holdPoint: holdPoints.cover,
    },
    {
      rule: 'alarms',
      visitKind: 'final',
      title: 'Smoke and carbon monoxide alarms',
      criterion:
        'A smoke alarm in each sleeping room, outside each sleeping area and on each storey; carbon monoxide alarms outside sleeping areas where there is a fuel-burning appliance or an attached garage. Sounding together where the open framing lets them be wired.',
      clause: 'IRC 2018 and 2021 R314.2.2, R314.3, R315.2.2; 2024 R310, R311 (from memory)',
      howToLook: 'Press the test button of one and listen for the others; read the date of make on each.',
      photoRequired: false,
      holdPoint: '',
    },
  ];
}

/** IRC R602.6.1 (from memory): tie 0.054 in (16 gage) by 1 1/2 in, eight 10d (0.148 in) nails each side, 6 in past. */
const cutPlates: CheckRule = {
  rule: 'plates-cut',
  visitKind: 'framing',
  title: 'Top plates that were cut',
  criterion:
    'Wherever a top plate is cut, or bored or notched by more than half its width: a galvanized steel tie 0.054 in thick (16 gage) and 1 1/2 in wide across it, 8 nails .148 x 1 1/2" or longer on each side, reaching 6 in or more past the cut.',
  clause: 'IRC R602.6.1 (from memory)',
  howToLook: 'Follow the plates from the opening to both cross walls; count nails on each side of every cut.',
  photoRequired: true,
  holdPoint: holdPoints.shoringOut,
};

/**
 * Notches and holes in studs: IRC R602.6 (from memory). A bearing stud may be notched by 25 % of its depth and bored by
 * 40 % (60 % where doubled, two such studs in a row at most), the edge of the hole 5/8 in or more from the face. The
 * calculated pack counts every stud whole.
 */
export function studChecks(supportContent: unknown): CheckRule[] {
  const support = supportSchema.parse(supportContent);
  const { widthIn: depthIn } = sawnSize(support.size);
  // Limits are rounded down: a rule never allows more than it says.
  const limit = (part: number) => formatInches(Math.floor(depthIn * part * 16 + 1e-9) / 16, { to: 16 });
  const pack =
    support.kind === 'post'
      ? 'The post whole: it is calculated without any notch or hole.'
      : `Jacks and kings whole: the pack is calculated without any notch or hole. Other ${support.size} studs that bear: notch ${limit(0.25)} at most, hole ${limit(0.4)} at most (${limit(0.6)} where the stud is doubled), edge of the hole 5/8" or more from the face, no hole beside a notch.`;
  return [
    {
      rule: 'studs',
      visitKind: 'framing',
      title: `Notches and holes in studs, ${support.end} end`,
      criterion: pack,
      clause: 'IRC R602.6 (from memory)',
      howToLook: 'Look behind each box and pipe; tape the largest hole and the wood left at its edge.',
      photoRequired: false,
      holdPoint: holdPoints.shoringOut,
    },
  ];
}
