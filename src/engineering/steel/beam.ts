import {
  makeCheck,
  notNegative,
  positive,
  qty,
  type Check,
  type Editions,
  type Notice,
} from '../trace/index.ts';
import { bearingChecks, type SteelBearing } from './bearing-plate.ts';
import { deflectionChecks, type DeflectionDemand } from './deflection.ts';
import { flexuralStrength } from './flexure.ts';
import { aisc, STEEL_E_PSI } from './grades.ts';
import { shearStrength } from './shear.ts';
import { webAtLoad } from './web-at-load.ts';
import { wideFlange, type WideFlange } from './wide-flange.ts';

export interface SteelBeamInput {
  readonly shape: string;
  readonly fyKsi: number;
  readonly editions: Editions;
  /** Largest ASD moment and shear of all combinations; steel knows no load-duration factor. */
  readonly momentLbIn: number;
  readonly shearLb: number;
  readonly unbracedIn: number;
  /** F1-1; omitted: 1.0. */
  readonly momentFactorCb?: number;
  readonly bearings: readonly SteelBearing[];
  /** Where wind lifts the beam: its bottom flange is pressed, and held only where something holds that flange. */
  readonly uplift?: { readonly momentLbIn: number; readonly unbracedIn: number; readonly governing?: string };
  /** Posts and braces that land on the top flange; the place that comes off worst is shown. */
  readonly landings?: readonly SteelLanding[];
  readonly deflection: DeflectionDemand;
  /** Names of the governing combinations, where known. */
  readonly governing?: { readonly moment?: string; readonly shear?: string; readonly bearing?: string };
}

/** A force on the top flange over a short length of the beam. */
export interface SteelLanding {
  /** 'Post from the ridge beam'. */
  readonly label: string;
  readonly loadLb: number;
  /** Length of what lands, along the beam. */
  readonly bearingIn: number;
  /** From the nearer end of the beam to the middle of the force. */
  readonly fromEndIn: number;
  readonly governing?: string;
}

export interface SteelBeamResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  readonly weightPlf: number;
}

/** Flexural rigidity E·Ix, lb-in². Steel does not creep. */
export function steelRigidityLbIn2(shape: string): number {
  return STEEL_E_PSI * wideFlange(shape).inertiaIn4;
}

/**
 * A wide-flange beam on wood supports, AISC 360 ASD: bending (F2, F3), shear (G2), web yielding and crippling at
 * each bearing and under a landing load (J10), the wood and the steel at each bearing, deflection.
 * Refuses unknown shapes and impossible numbers.
 */
export function checkSteelBeam(input: SteelBeamInput): SteelBeamResult {
  const shape = wideFlange(input.shape);
  const { editions } = input;
  const fyPsi = positive(input.fyKsi, 'member.fyKsi') * 1000;
  const flexure = flexuralStrength({
    shape,
    fyPsi,
    unbracedIn: input.unbracedIn,
    momentFactorCb: input.momentFactorCb ?? 1,
    editions,
  });
  const shear = shearStrength(shape, fyPsi, editions);
  const governs = (name?: string) => (name === undefined ? {} : { governing: name });
  const checks: Check[] = [
    makeCheck({
      id: 'steel.flexure',
      title: `Bending of ${shape.shape}`,
      clause: aisc(editions, flexure.governs === 'flange local buckling' ? 'F3' : 'F2'),
      demand: qty(notNegative(input.momentLbIn, 'momentLbIn'), 'lb-in'),
      capacity: qty(flexure.allowableLbIn, 'lb-in'),
      steps: flexure.steps,
      ...governs(input.governing?.moment),
    }),
    makeCheck({
      id: 'steel.shear',
      title: `Shear of ${shape.shape}`,
      clause: aisc(editions, 'G2.1'),
      demand: qty(notNegative(input.shearLb, 'shearLb'), 'lb'),
      capacity: qty(shear.allowableLb, 'lb'),
      steps: [shear.step],
      ...governs(input.governing?.shear),
    }),
    ...upliftChecks(shape, fyPsi, input),
  ];

  for (const bearing of input.bearings) {
    const web = webAtLoad({
      shape,
      fyPsi,
      bearingIn:
        bearing.plate === undefined ? bearing.lengthIn : Math.min(bearing.plate.lengthIn, bearing.lengthIn),
      fromEndIn: bearing.lengthIn / 2,
      editions,
    });
    checks.push(
      ...webChecks(`steel.web.${bearing.end}`, `${bearing.end} end`, bearing.reactionLb, web, editions),
      ...bearingChecks(shape, fyPsi, bearing, editions),
      makeCheck({
        id: `steel.bearing.${bearing.end}.length`,
        title: `Length of bearing, ${bearing.end} end`,
        clause: aisc(editions, 'J10.2, lb not less than k at an end'),
        demand: qty(shape.filletToeIn, 'in'),
        capacity: qty(bearing.lengthIn, 'in'),
      }),
    );
  }
  checks.push(...landingChecks(shape, fyPsi, input));

  const rigidity = STEEL_E_PSI * shape.inertiaIn4;
  const totalIn = notNegative(input.deflection.totalLbIn3, 'deflection.totalLbIn3') / rigidity;
  checks.push(
    ...deflectionChecks(
      'steel',
      input.deflection,
      rigidity,
      totalIn,
      {
        id: 'steel.deflection.total.value',
        title: 'Deflection under all load',
        clause: { standard: 'Mechanics', edition: '', section: 'elastic bending, δ = (EIδ) / EI' },
        formula: 'δ = EIδ / (E · I)',
        values: {
          EIδ: qty(input.deflection.totalLbIn3),
          E: qty(STEEL_E_PSI, 'psi'),
          I: qty(shape.inertiaIn4, 'in⁴'),
        },
        result: qty(totalIn, 'in'),
        note: 'EIδ from statics, lb-in³.',
      },
      { standard: 'IRC', edition: editions.irc, section: 'Table R301.7', provenance: 'from memory' },
    ),
  );
  return { checks, notices: notices(editions), weightPlf: shape.weightPlf };
}

/** Lifted, the beam bends the other way; Cb stays 1. */
function upliftChecks(shape: WideFlange, fyPsi: number, { uplift, editions }: SteelBeamInput): Check[] {
  if (uplift === undefined || uplift.momentLbIn === 0) return [];
  const { momentLbIn, unbracedIn, governing } = uplift;
  const flexure = flexuralStrength({ shape, fyPsi, unbracedIn, momentFactorCb: 1, editions });
  return [
    makeCheck({
      id: 'steel.flexure.uplift',
      title: `Bending of ${shape.shape} by uplift, bottom flange pressed`,
      clause: aisc(editions, flexure.governs === 'flange local buckling' ? 'F3' : 'F2'),
      demand: qty(notNegative(momentLbIn, 'uplift.momentLbIn'), 'lb-in'),
      capacity: qty(flexure.allowableLbIn, 'lb-in'),
      steps: flexure.steps,
      ...(governing === undefined ? {} : { governing }),
    }),
  ];
}

/** The web under each landing load; of yielding and of crippling the worst place stands for all. */
function landingChecks(shape: WideFlange, fyPsi: number, { landings, editions }: SteelBeamInput): Check[] {
  const judged = (landings ?? []).map(({ label, loadLb, governing, ...place }) =>
    webChecks(
      'steel.web.landing',
      `under ${label}`,
      loadLb,
      webAtLoad({ shape, fyPsi, ...place, editions }),
      editions,
      governing,
    ),
  );
  const worst = new Map<string, Check>();
  for (const check of judged.flat()) {
    const known = worst.get(check.id);
    if (known === undefined || check.ratio > known.ratio) worst.set(check.id, check);
  }
  return [...worst.values()];
}

function webChecks(
  id: string,
  where: string,
  loadLb: number,
  web: ReturnType<typeof webAtLoad>,
  editions: Editions,
  governing?: string,
): Check[] {
  const demand = qty(notNegative(loadLb, id), 'lb');
  const governs = governing === undefined ? {} : { governing };
  return [
    makeCheck({
      id: `${id}.yielding`,
      title: `Web yielding, ${where}`,
      clause: aisc(editions, 'J10.2'),
      demand,
      capacity: qty(web.yieldingLb, 'lb'),
      steps: [web.yieldingStep],
      ...governs,
    }),
    makeCheck({
      id: `${id}.crippling`,
      title: `Web crippling, ${where}`,
      clause: aisc(editions, 'J10.3'),
      demand,
      capacity: qty(web.cripplingLb, 'lb'),
      steps: [web.cripplingStep],
      ...governs,
    }),
  ];
}

function notices(editions: Editions): Notice[] {
  return [
    {
      id: 'steel.ends-held',
      severity: 'caution',
      text: 'Hold both ends of the steel beam against rolling over (blocking, clips or stiffeners); the bearing checks assume it.',
      clause: aisc(editions, 'J10.7'),
    },
    {
      id: 'steel.wood-nailer',
      severity: 'note',
      text: 'Joists need a bolted nailer or hangers listed for steel; the top flange counts as braced only where the joists are fastened to it.',
      clause: { standard: 'Practice', edition: '', section: '', provenance: 'common practice' },
    },
  ];
}
