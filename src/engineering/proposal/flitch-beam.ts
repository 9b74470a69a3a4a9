import { referenceLateral } from '../fasteners/dowels/lateral.ts';
import { checkFlitchBeam, flitchSection, type FlitchBeamInput } from '../flitch/index.ts';
import { A36 } from '../steel/index.ts';
import type { Check, Notice } from '../trace/step.ts';
import {
  adjustedShearPsi,
  bearingResistance,
  bendingResistance,
  creepFactor,
  memberFactors,
  ORDINARY_CONDITIONS,
  woodMember,
  type WoodMember,
} from '../wood/index.ts';
import { actOn, type BeamActions, type PreparedBeam } from './beam-actions.ts';
import { deadSag, deflectionLimits, joistSpacing, type ActedBeam } from './beam-member.ts';
import type { Criteria } from './criteria.ts';
import type { Beam, FlitchMember } from './design.ts';
import type { Survey } from './survey.ts';

const STEEL_PCF = 490;
/** A bolt of that length passes the pack with washers and nut. Common practice. */
const BOLT_BEYOND_PACK_IN = 1.25;

/** A flitch beam: sawn plies with steel plates between them, judged in each combination with its own CD. */
export function actWithFlitch(
  survey: Survey,
  criteria: Criteria,
  beam: Beam & { readonly member: FlitchMember },
  prepared: PreparedBeam,
): ActedBeam {
  const { member } = beam;
  const wood = woodMember(
    {
      kind: 'sawn',
      species: member.species,
      grade: member.grade,
      size: member.size,
      plies: member.woodPlies,
    },
    criteria.editions.nds,
  );
  const steelAreaIn2 = member.plates * member.plateThicknessIn * member.plateDepthIn;
  const weightPlf = wood.weightPlf + (steelAreaIn2 / 144) * STEEL_PCF;
  const actions = actOn(prepared, weightPlf, wood.depthIn);
  const results = actions.envelope.byCombination.map((_one, index) =>
    checkFlitchBeam(flitchInput(survey, criteria, beam, wood, actions, index)),
  );
  const { wood: plies, plate } = flitchInput(survey, criteria, beam, wood, actions, 0);
  return {
    actions,
    checks: worstOfEach(results.flatMap(({ checks }) => checks)),
    notices: [...(results[0]?.notices ?? []), ...assumptions(member)],
    weightPlf,
    rigidityLbIn2: flitchSection({ wood: plies, plate }).rigidityLbIn2,
  };
}

/** Of every check the combination that asks most of it: CD of the wood differs from one to the next. */
function worstOfEach(checks: readonly Check[]): Check[] {
  const worst = new Map<string, Check>();
  for (const check of checks) {
    const known = worst.get(check.id);
    if (known === undefined || check.ratio > known.ratio) worst.set(check.id, check);
  }
  return [...worst.values()];
}

function assumptions(member: FlitchMember): Notice[] {
  return [
    {
      id: 'flitch.bolts',
      severity: 'note',
      text: `Bolts ${member.boltRows === 1 ? 'in one row at mid-depth' : 'in two staggered rows'}, ${member.boltsAtEachEnd ?? 2} at each end; plates of A36 steel, ${member.plateEnd ?? 'held short'}${member.plateEnd === 'on bearing plate' ? '' : ' of the support'}.`,
    },
  ];
}

function flitchInput(
  survey: Survey,
  criteria: Criteria,
  beam: Beam & { readonly member: FlitchMember },
  wood: WoodMember,
  actions: BeamActions,
  index: number,
): FlitchBeamInput {
  const { member } = beam;
  const { envelope, geometry, combinations } = actions;
  const one = envelope.byCombination[index] ?? envelope;
  const combination = combinations[index];
  const loadDuration = combination?.durationFactor ?? 1;
  const name = combination?.name ?? '';
  const factors = memberFactors(wood, ORDINARY_CONDITIONS);
  const { max, min } = one.momentLbIn;
  const sagging = max.value >= -min.value;
  const bending = bendingResistance({
    member: wood,
    factors,
    loadDuration,
    face: sagging ? 'bottom' : 'top',
    // Under uplift the bottom edge is pressed, and nothing is counted on to hold it between the supports.
    unbracedIn: sagging ? (beam.unbracedIn ?? joistSpacing(survey, geometry.spanIn)) : geometry.spanIn,
    loadCase: 'any',
    volumeLengthIn: geometry.spanIn,
  });
  const dead = Math.max(0, deadSag(actions));
  const passing = Math.max(0, ...actions.passing.map(({ eiLbIn3 }) => Math.abs(eiLbIn3)));
  const limits = deflectionLimits(criteria);
  return {
    wood: {
      plies: wood.plies,
      thicknessIn: wood.plyThicknessIn,
      depthIn: wood.depthIn,
      ePsi: wood.material.reference.ePsi,
      fbPsi: bending.adjustedPsi,
      fvPsi: adjustedShearPsi(wood, factors, loadDuration),
      densityPcf: wood.material.densityPcf,
    },
    plate: {
      plates: member.plates,
      thicknessIn: member.plateThicknessIn,
      depthIn: member.plateDepthIn,
      fyPsi: A36.fyPsi,
    },
    bolts: {
      diameterIn: member.boltDiameterIn,
      spacingIn: member.boltSpacingIn,
      rows: member.boltRows ?? 2,
      fromPlateEdgeIn: Math.max(2, 2 * member.boltDiameterIn),
      atEachEnd: member.boltsAtEachEnd ?? 2,
      fromEndIn: Math.max(2, 4 * member.boltDiameterIn),
      allowableLb: boltAllowableLb(member, wood, criteria) * loadDuration,
    },
    editions: criteria.editions,
    momentLbIn: Math.max(0, max.value, -min.value),
    shearLb: Math.max(one.shearLb.max.value, -one.shearLb.min.value, 0),
    lineLoadLbPerIn: heaviestLineLoad(actions, combination?.factors ?? {}),
    landingLb: heaviestLanding(actions, combination?.factors ?? {}),
    supports: (['left', 'right'] as const).map((end, place) => {
      const lengthIn = end === 'left' ? geometry.bearingLeftIn : geometry.bearingRightIn;
      return {
        end,
        reactionLb: Math.max(0, one.reactions[place]?.forceLb.max.value ?? 0),
        lengthIn,
        woodAllowablePsi: bearingResistance(wood.material, ORDINARY_CONDITIONS, lengthIn, 0).adjustedPsi,
        plateEnd: member.plateEnd ?? ('held short' as const),
      };
    }),
    deflection: {
      spanIn: geometry.spanIn,
      liveLbIn3: passing,
      totalLbIn3: passing + dead,
      sustainedLbIn3: dead,
      liveRatio: limits.liveRatio,
      totalRatio: limits.totalRatio,
      ...(limits.absoluteIn === undefined ? {} : { absoluteIn: limits.absoluteIn }),
    },
    creepFactor: creepFactor(wood, ORDINARY_CONDITIONS),
    governing: { moment: name, shear: name },
  };
}

/** Z⊥ of one bolt, steel between wood in double shear (NDS 12.3.1), lb, before CD; each plate has two planes of it. */
function boltAllowableLb(member: FlitchMember, wood: WoodMember, criteria: Criteria): number {
  const ply = {
    material: 'wood' as const,
    thicknessIn: wood.plyThicknessIn,
    specificGravity: wood.material.specificGravity,
    angleDeg: 90,
  };
  const { zLb } = referenceLateral(
    {
      fastener: {
        kind: 'bolt',
        diameterIn: member.boltDiameterIn,
        lengthIn: wood.breadthIn + member.plates * member.plateThicknessIn + BOLT_BEYOND_PACK_IN,
      },
      method: 'face',
      side: ply,
      main: { material: 'steel', thicknessIn: member.plateThicknessIn, angleDeg: 0 },
      farSide: ply,
      aheadIn: 0,
      path: 'member.bolts',
    },
    criteria.editions,
  );
  return zLb * member.plates;
}

function heaviestLineLoad({ loads }: BeamActions, factors: Readonly<Record<string, number>>): number {
  let plf = 0;
  for (const load of loads) {
    if (load.form !== 'line') continue;
    plf += Math.max(0, load.loadPlf * factorOf(load, factors));
  }
  return plf / 12;
}

function heaviestLanding({ loads }: BeamActions, factors: Readonly<Record<string, number>>): number {
  const byPlace = new Map<number, number>();
  for (const load of loads) {
    if (load.form !== 'point') continue;
    const lb = load.loadLb * factorOf(load, factors);
    byPlace.set(load.positionIn, (byPlace.get(load.positionIn) ?? 0) + lb);
  }
  return Math.max(0, ...byPlace.values());
}

function factorOf(
  load: { readonly kind: string; readonly snowCase?: string },
  factors: Readonly<Record<string, number>>,
): number {
  return factors[load.kind === 'S' ? `S ${load.snowCase ?? 'balanced'}` : load.kind] ?? 0;
}
