import { shoringSchema, type Shoring } from '../../engineering/proposal/design.ts';
import { formatFeetInches, formatInches } from '../../engineering/units/index.ts';
import { holdPoints, type CheckRule } from './check.ts';

const feet = (value: number) => formatFeetInches(value, { to: 16 });
const inches = (value: number) => formatInches(value, { to: 16 });

const soleWords: Readonly<Record<Shoring['soleOn'], string>> = {
  slab: 'on the slab, down over its whole length, no stud over a crack or a gap',
  'joists across': 'across the joists, on planks where a stud would stand between two of them',
  'joists along':
    'on planks or blocks that reach the joists on both sides, never on the subfloor between them',
};

/** The temporary walls, before anything of the old one is touched; and that they still stand when framing is looked at. */
export function shoringChecks(content: unknown): CheckRule[] {
  const shoring = shoringSchema.parse(content);
  const before = { visitKind: 'shoring', holdPoint: holdPoints.wallOut } as const;
  const storeys = shoring.storeysShored === 1 ? '1 storey' : `${shoring.storeysShored} storeys`;
  const checks: CheckRule[] = [
    {
      ...before,
      rule: 'walls',
      title: 'Temporary walls in',
      criterion: `${shoring.sides === 'both' ? 'Both sides' : `The ${shoring.sides} side`}, ${feet(shoring.offsetIn)} off, ${shoring.studSize} ${shoring.species} ${shoring.grade} studs at ${inches(shoring.studSpacingIn)}, ${shoring.topPlates} top plates, tight under what they carry, longer than the opening.`,
      clause: '29 CFR 1926.850',
      howToLook:
        'Tape offset and spacing; strike each stud: a loose one sounds. Anything moving: stop and call the engineer.',
      photoRequired: true,
    },
    {
      ...before,
      rule: 'storeys',
      title: 'Every storey shored down',
      criterion: `${storeys} shored, studs over studs, down to something that carries them.`,
      clause: '29 CFR 1926.850',
      howToLook: 'Follow every load down, storey by storey: no stud over an unsupported joist.',
      photoRequired: true,
    },
    {
      ...before,
      rule: 'sole',
      title: 'Sole of the temporary walls',
      criterion: `Sole plate ${soleWords[shoring.soleOn]}.`,
      clause: 'NDS 3.10, common practice',
      howToLook: 'Look along the sole from its end; look from below where there is a floor.',
      photoRequired: false,
    },
    {
      ...before,
      rule: 'bracing',
      title: 'Temporary walls braced',
      criterion:
        shoring.midHeightBracingIn === 0
          ? 'A diagonal or sheathing in each wall against racking; the plan counts on no bracing of the studs.'
          : `Studs held about their weak axis every ${feet(shoring.midHeightBracingIn)}, the brace fastened to each stud and ending at something fixed; a diagonal or sheathing against racking.`,
      clause: 'NDS 3.7.1, common practice',
      howToLook: 'Push each wall along its length; try the brace at each stud.',
      photoRequired: false,
    },
    {
      ...before,
      rule: 'services',
      title: 'Services in the wall dead, drained or moved',
      criterion:
        'Every circuit in the wall proved dead where it is to be cut; water shut and drained, gas shut and capped, or all of them led around the work and protected.',
      clause: '29 CFR 1926.850(c)',
      howToLook:
        'Ask for the list of circuits; try a tester on a live one first, then on each cable in the wall.',
      photoRequired: false,
    },
    {
      visitKind: 'framing',
      holdPoint: '',
      rule: 'still-in',
      title: 'Temporary walls still carry',
      criterion:
        'They stand as accepted until the beam is fastened throughout and this visit has passed; nothing was taken out to make room.',
      clause: '29 CFR 1926.850, common practice',
      howToLook: 'Count studs on both sides; look for wedges that were knocked out.',
      photoRequired: false,
    },
  ];
  if (shoring.bracesRelanded) {
    checks.splice(1, 0, {
      ...before,
      rule: 'braces',
      title: 'Roof braces set on strongbacks',
      criterion:
        'Each roof brace of the survey stands on a strongback that spans between the temporary walls, fastened at its foot; none stands on the wall that goes.',
      clause: 'IRC R802.4.5, common practice',
      howToLook: 'Go up into the attic; count braces against the survey, and try each foot.',
      photoRequired: true,
    });
  }
  return checks;
}
