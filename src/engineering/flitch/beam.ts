import {
  makeCheck,
  notNegative,
  positive,
  qty,
  refuseUnless,
  type Check,
  type Clause,
  type Editions,
  type Notice,
} from '../trace/index.ts';
import { aisc, deflectionChecks, OMEGA, STEEL_E_PSI, type DeflectionDemand } from '../steel/index.ts';
import { boltChecks, boltOffsetIn, netHoleIn, type FlitchBolts } from './bolts.ts';
import { flitchSection, type FlitchPlate, type FlitchSection, type FlitchWood } from './section.ts';

export interface FlitchSupport {
  readonly end: 'left' | 'right';
  readonly reactionLb: number;
  readonly lengthIn: number;
  /** Allowable pressure of the weaker of beam wood and support, with every factor. */
  readonly woodAllowablePsi: number;
  /**
   * `held short`: the plates stop above the support, bolts bring their share back to the plies.
   * `on bearing plate`: plies and plates stand together on a steel plate as wide as the pack.
   */
  readonly plateEnd: 'held short' | 'on bearing plate';
}

export interface FlitchBeamInput {
  readonly wood: FlitchWood & { readonly densityPcf: number };
  readonly plate: FlitchPlate;
  readonly bolts: FlitchBolts;
  readonly editions: Editions;
  readonly momentLbIn: number;
  readonly shearLb: number;
  readonly lineLoadLbPerIn: number;
  readonly landingLb: number;
  readonly supports: readonly FlitchSupport[];
  /** `sustainedLbIn3`: E·I·δ of the load that stays (dead), part of the total. */
  readonly deflection: DeflectionDemand & { readonly sustainedLbIn3: number };
  /** Kcr of NDS 3.5.2: 1.5 for dry sawn lumber, glulam and composites, 2.0 for green or wet. */
  readonly creepFactor: number;
  readonly governing?: { readonly moment?: string; readonly shear?: string };
}

export interface FlitchBeamResult {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
  readonly weightPlf: number;
  /** Part of the load in the steel: at once, and after the wood has crept. */
  readonly steelShareAtOnce: number;
  readonly steelShareLater: number;
  readonly boltSpacingAllowedIn: number;
  readonly endBoltsNeeded: number;
}

const COMPATIBILITY: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'transformed section, one curvature for wood and steel',
};

/**
 * A flitch beam. Wood is judged with its full E (it takes most at once), steel and bolts with E ÷ Kcr (they take
 * most after creep); net section at one bolt hole. Refuses a creep factor below 1 and what `flitchSection` refuses.
 */
export function checkFlitchBeam(input: FlitchBeamInput): FlitchBeamResult {
  const { wood, plate, bolts, editions } = input;
  refuseUnless(
    Number.isFinite(input.creepFactor) && input.creepFactor >= 1,
    'creepFactor',
    'The creep factor Kcr is 1.0 or more (NDS 3.5.2).',
  );
  const hole = {
    diameterIn: netHoleIn(positive(bolts.diameterIn, 'bolts.diameterIn')),
    fromMiddleIn: boltOffsetIn(bolts, plate.depthIn),
  };
  const creptWood = { ...wood, ePsi: wood.ePsi / input.creepFactor };
  const atOnce = flitchSection({ wood, plate });
  const later = flitchSection({ wood: creptWood, plate });
  const atOnceNet = flitchSection({ wood, plate, hole });
  const laterNet = flitchSection({ wood: creptWood, plate, hole });

  const bolted = boltChecks(
    bolts,
    {
      lineLoadLbPerIn: input.lineLoadLbPerIn,
      landingLb: input.landingLb,
      endTransferLb: Math.max(
        0,
        ...input.supports.filter((s) => s.plateEnd === 'held short').map((s) => s.reactionLb),
      ),
      steelShare: later.steelShare,
      woodDepthIn: wood.depthIn,
      plateDepthIn: plate.depthIn,
      plateThicknessIn: plate.plates * plate.thicknessIn,
    },
    editions,
  );
  const checks = [
    ...bendingChecks(input, atOnceNet, laterNet),
    ...shearChecks(input, atOnce, later),
    ...input.supports.map((support) => bearingCheck(input, support)),
    ...bolted.checks,
    ...flitchDeflection(input, atOnce, later),
  ];
  const weightPlf =
    (wood.plies * wood.thicknessIn * wood.depthIn * positive(wood.densityPcf, 'wood.densityPcf')) / 144 +
    (plate.plates * plate.thicknessIn * plate.depthIn * 490) / 144;
  return {
    checks,
    notices: notices(input),
    weightPlf,
    steelShareAtOnce: atOnce.steelShare,
    steelShareLater: later.steelShare,
    boltSpacingAllowedIn: bolted.spacingAllowedIn,
    endBoltsNeeded: bolted.endBoltsNeeded,
  };
}

function bendingChecks(input: FlitchBeamInput, atOnce: FlitchSection, later: FlitchSection): Check[] {
  const { wood, plate, editions } = input;
  const moment = notNegative(input.momentLbIn, 'momentLbIn');
  const governs = input.governing?.moment === undefined ? {} : { governing: input.governing.moment };
  const stress = (of: 'wood' | 'steel', section: FlitchSection, ePsi: number, depthIn: number) => {
    const value = (moment * ePsi * depthIn) / 2 / section.rigidityLbIn2;
    return {
      value,
      step: {
        id: `flitch.bending.${of}.stress`,
        title: `Bending stress of the ${of}`,
        clause: COMPATIBILITY,
        formula: 'f = M · E · (d / 2) / ΣEI',
        values: {
          M: qty(moment, 'lb-in'),
          E: qty(ePsi, 'psi'),
          d: qty(depthIn, 'in'),
          ΣEI: qty(section.rigidityLbIn2, 'lb-in²'),
        },
        result: qty(value, 'psi'),
        note:
          of === 'wood'
            ? 'Before creep, net of one bolt hole.'
            : 'After creep of the wood, net of one bolt hole.',
      },
    };
  };
  const inWood = stress('wood', atOnce, wood.ePsi, wood.depthIn);
  const inSteel = stress('steel', later, STEEL_E_PSI, plate.depthIn);
  return [
    makeCheck({
      id: 'flitch.bending.wood',
      title: 'Bending of the plies',
      clause: { standard: 'NDS', edition: editions.nds, section: '3.3', provenance: 'from memory' },
      demand: qty(inWood.value, 'psi'),
      capacity: qty(wood.fbPsi, 'psi'),
      steps: [inWood.step],
      ...governs,
    }),
    makeCheck({
      id: 'flitch.bending.steel',
      title: 'Bending of the plates',
      clause: aisc(editions, 'F1, F11 at first yield'),
      demand: qty(inSteel.value, 'psi'),
      capacity: qty(plate.bendingPsi ?? plate.fyPsi / OMEGA.flexure, 'psi'),
      steps: [inSteel.step],
      ...governs,
    }),
  ];
}

function shearChecks(input: FlitchBeamInput, atOnce: FlitchSection, later: FlitchSection): Check[] {
  const { editions } = input;
  const shear = notNegative(input.shearLb, 'shearLb');
  const governs = input.governing?.shear === undefined ? {} : { governing: input.governing.shear };
  // Where the plates stop short of a support, the plies alone carry the shear over the last inches.
  const alone = input.supports.some((support) => support.plateEnd === 'held short');
  const woodShear = alone ? shear : shear * (1 - atOnce.steelShare);
  return [
    makeCheck({
      id: 'flitch.shear.wood',
      title: alone ? 'Shear of the plies, alone at the supports' : 'Shear of the plies',
      clause: { standard: 'NDS', edition: editions.nds, section: '3.4.2', provenance: 'from memory' },
      demand: qty(woodShear, 'lb'),
      capacity: qty(atOnce.woodShearLb, 'lb'),
      ...governs,
    }),
    makeCheck({
      id: 'flitch.shear.steel',
      title: 'Shear of the plates',
      clause: aisc(editions, 'G2.1, on two thirds of the area'),
      demand: qty(shear * later.steelShare, 'lb'),
      capacity: qty(later.plateShearParabolicLb, 'lb'),
      ...governs,
    }),
  ];
}

function bearingCheck(input: FlitchBeamInput, support: FlitchSupport): Check {
  const path = `supports.${support.end}`;
  const { wood, plate, editions } = input;
  const woodWidth = wood.plies * wood.thicknessIn;
  const together = support.plateEnd === 'on bearing plate';
  const width = woodWidth + (together ? plate.plates * plate.thicknessIn : 0);
  const length = positive(support.lengthIn, `${path}.lengthIn`);
  const pressure = notNegative(support.reactionLb, `${path}.reactionLb`) / (width * length);
  return makeCheck({
    id: `flitch.bearing.${support.end}`,
    title: `Bearing, ${support.end} end${together ? ', on a steel plate' : ''}`,
    clause: { standard: 'NDS', edition: editions.nds, section: '3.10', provenance: 'from memory' },
    demand: qty(pressure, 'psi'),
    capacity: qty(positive(support.woodAllowablePsi, `${path}.woodAllowablePsi`), 'psi'),
    steps: [
      {
        id: `flitch.bearing.${support.end}.pressure`,
        title: together ? 'Pressure under the bearing plate' : 'Pressure under the plies',
        clause: { standard: 'Mechanics', edition: '', section: 'mean pressure' },
        formula: 'fc = R / (b · lb)',
        values: { R: qty(support.reactionLb, 'lb'), b: qty(width, 'in'), lb: qty(length, 'in') },
        result: qty(pressure, 'psi'),
      },
    ],
  });
}

function flitchDeflection(input: FlitchBeamInput, atOnce: FlitchSection, later: FlitchSection): Check[] {
  const { deflection, editions } = input;
  const sustained = notNegative(deflection.sustainedLbIn3, 'deflection.sustainedLbIn3');
  const passing = notNegative(deflection.totalLbIn3, 'deflection.totalLbIn3') - sustained;
  refuseUnless(
    passing >= -1e-9 * sustained,
    'deflection.sustainedLbIn3',
    'The load that stays can not bend the beam more than all load does.',
  );
  const totalIn = sustained / later.rigidityLbIn2 + passing / atOnce.rigidityLbIn2;
  return deflectionChecks(
    'flitch',
    deflection,
    atOnce.rigidityLbIn2,
    totalIn,
    {
      id: 'flitch.deflection.total.value',
      title: 'Deflection under all load, the wood crept under the load that stays',
      clause: { standard: 'NDS', edition: editions.nds, section: '3.5.2', provenance: 'from memory' },
      formula: 'δ = EIδs / ΣEIs + EIδp / ΣEI',
      values: {
        EIδs: qty(sustained),
        ΣEIs: qty(later.rigidityLbIn2, 'lb-in²'),
        EIδp: qty(passing),
        ΣEI: qty(atOnce.rigidityLbIn2, 'lb-in²'),
      },
      result: qty(totalIn, 'in'),
      note: 'ΣEIs with E of the wood divided by Kcr: the steel does not creep.',
    },
    { standard: 'IRC', edition: editions.irc, section: 'Table R301.7', provenance: 'from memory' },
  );
}

/** Flitch plates are usually bolted at 24 in or closer. */
const WIDEST_USUAL_SPACING_IN = 24;

function notices(input: FlitchBeamInput): Notice[] {
  const practice: Clause = { standard: 'Practice', edition: '', section: '', provenance: 'common practice' };
  const list: Notice[] = [
    {
      id: 'flitch.lateral',
      severity: 'note',
      text: 'The plies hold the plates upright over their whole length; do not leave out plies or bolts.',
      clause: practice,
    },
  ];
  if (input.supports.some((support) => support.plateEnd === 'held short')) {
    list.push({
      id: 'flitch.held-short',
      severity: 'caution',
      text: 'Keep the plates clear of the supports, as drawn; a plate that touches first crushes the wood under its edge.',
      clause: practice,
    });
  }
  if (input.bolts.spacingIn > WIDEST_USUAL_SPACING_IN) {
    list.push({
      id: 'flitch.bolt-spacing',
      severity: 'caution',
      text: 'Bolts of a flitch beam are usually no more than 24 in apart, whatever their load.',
      clause: practice,
    });
  }
  return list;
}
