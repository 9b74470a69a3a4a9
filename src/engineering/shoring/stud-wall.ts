import { makeCheck, notNegative, positive, qty, type Check, type Editions } from '../trace/index.ts';
import {
  adjustedShearPsi,
  checkBearing,
  checkWoodColumn,
  memberFactors,
  nds,
  ORDINARY_CONDITIONS,
  serviceFactor,
  woodMember,
  type WoodColumnCombination,
  type WoodMember,
} from '../wood/index.ts';
import { PRACTICE } from './clauses.ts';
import type { TemporaryWallLoad } from './line-loads.ts';

export interface StudWallInput {
  readonly load: TemporaryWallLoad;
  readonly species: string;
  readonly grade: string;
  readonly studSize: string;
  readonly studSpacingIn: number;
  /** Underside of the joists to what the sole stands on. */
  readonly heightIn: number;
  /** Spacing of the bracing along the wall; 0: none. */
  readonly midHeightBracingIn: number;
  readonly topPlates: number;
  readonly joistSpacingIn: number;
  readonly editions: Editions;
}

const SOLE_PLATES = 1;
/** Studs stand this far or further from the end of their plate, so that NDS 3.10.4 counts. */
const STUD_FROM_PLATE_END_IN = 3;

/** Every joist comes down on a stud: the studs are as close as the joists, or evenly between them. */
export function joistsMeetStuds(joistSpacingIn: number, studSpacingIn: number): boolean {
  const ratio = positive(joistSpacingIn, 'joistSpacingIn') / positive(studSpacingIn, 'studSpacingIn');
  return ratio > 0.99 && Math.abs(ratio - Math.round(ratio)) < 0.01;
}

/**
 * One temporary wall: stud as a column with le/d up to 75 while building (NDS 3.7.1.4), stud on the plates (3.10),
 * top plates flat between the studs where joists come down there. Checks are named by side.
 * Refuses what the wood functions refuse.
 */
export function checkStudWall(input: StudWallInput): Check[] {
  const { load, editions } = input;
  const id = `shoring.${load.side}`;
  const lumber = { kind: 'sawn' as const, species: input.species, grade: input.grade, size: input.studSize };
  const stud = woodMember({ ...lumber, plies: 1 }, editions.nds, 'shoring');
  const spacing = positive(input.studSpacingIn, 'studSpacingIn');
  const bracing = notNegative(input.midHeightBracingIn, 'midHeightBracingIn');
  const studHeight = positive(
    input.heightIn - (input.topPlates + SOLE_PLATES) * stud.plyThicknessIn,
    'heightIn',
  );
  const combinations: WoodColumnCombination[] = load.lines.map((line) => ({
    name: line.combination,
    loadDuration: line.loadDuration,
    axialLb: (line.loadPlf * spacing) / 12,
  }));
  const heaviestLb = (load.heaviest.loadPlf * spacing) / 12;
  return [
    ...checkWoodColumn({
      id: `${id}.stud`,
      edition: editions.nds,
      member: stud,
      fastening: 'solid',
      heightIn: studHeight,
      weakUnbracedIn: bracing === 0 ? studHeight : Math.min(bracing, studHeight),
      whileBuilding: true,
      combinations: combinations.length > 0 ? combinations : [{ name: 'none', loadDuration: 1, axialLb: 0 }],
    }).map((check) => ({ ...check, title: `${check.title}, ${load.side} temporary studs` })),
    checkBearing({
      id: `${id}.plate.bearing`,
      title: `Stud on its plates, ${load.side} temporary wall`,
      material: stud.material,
      edition: editions.nds,
      loadLb: heaviestLb,
      lengthIn: stud.plyThicknessIn,
      widthIn: stud.depthIn,
      endDistanceIn: STUD_FROM_PLATE_END_IN,
      governing: load.heaviest.combination,
    }),
    ...plateChecks(input, stud),
  ];
}

/** Joists down the middle of a bay and to either side of it, as close as they are spaced. */
export function plateMomentLbIn(joistLb: number, joistSpacingIn: number, baySpacingIn: number): number {
  let moment = (joistLb * baySpacingIn) / 4;
  for (let off = joistSpacingIn; off < baySpacingIn / 2; off += joistSpacingIn) {
    moment += joistLb * (baySpacingIn / 2 - off);
  }
  return moment;
}

function plateChecks(input: StudWallInput, stud: WoodMember): Check[] {
  const { load, editions, joistSpacingIn: joists, studSpacingIn: bay } = input;
  const id = `shoring.${load.side}.plate`;
  if (joistsMeetStuds(joists, bay)) {
    return [
      makeCheck({
        id: `${id}.aligned`,
        title: `A stud under every joist, ${load.side} temporary wall`,
        clause: PRACTICE,
        demand: qty(bay, 'in'),
        capacity: qty(joists, 'in'),
        sentence: () =>
          'Set each stud under a joist: the plates are then not bent. Find the joists before you build.',
      }),
    ];
  }
  const factors = memberFactors(stud, ORDINARY_CONDITIONS);
  const plates = positive(input.topPlates, 'topPlates');
  const modulus = (plates * stud.depthIn * stud.plyThicknessIn ** 2) / 6;
  const area = plates * stud.depthIn * stud.plyThicknessIn;
  // The combination that asks most for its own load duration.
  const worst = load.lines.reduce(
    (most, line) => (line.loadPlf / line.loadDuration > most.loadPlf / most.loadDuration ? line : most),
    load.heaviest,
  );
  const joistLb = (worst.loadPlf * joists) / 12;
  const moment = plateMomentLbIn(joistLb, joists, bay);
  const reference = stud.material.reference.fbPsi;
  const service = serviceFactor(factors, 'fb');
  const allowable = reference * worst.loadDuration * service * factors.size.fb * factors.flatUse;
  // Joists at a stud, on one side of it: at most all that lie in one bay.
  const perBay = Math.max(1, Math.ceil(bay / joists));
  return [
    makeCheck({
      id: `${id}.bending`,
      title: `Top plates between the studs, ${load.side} temporary wall`,
      clause: nds(editions.nds, '3.3'),
      demand: qty(moment / modulus, 'psi'),
      capacity: qty(allowable, 'psi'),
      governing: worst.combination,
      steps: [
        {
          id: `${id}.moment`,
          title: 'Moment with a joist in the middle of the bay',
          clause: { standard: 'Mechanics', edition: '', section: 'simple span' },
          formula: joists < bay / 2 ? 'M = P · s / 4 + Σ P · (s / 2 − x)' : 'M = P · s / 4',
          values: { P: qty(joistLb, 'lb'), s: qty(bay, 'in') },
          result: qty(moment, 'lb-in'),
        },
        {
          id: `${id}.Fb`,
          title: 'Allowable bending stress, laid flat',
          clause: stud.material.clause,
          formula: 'Fb′ = Fb · CD · CM · CF · Cfu',
          values: {
            Fb: qty(reference, 'psi'),
            CD: qty(worst.loadDuration),
            CM: qty(service),
            CF: qty(factors.size.fb),
            Cfu: qty(factors.flatUse),
          },
          result: qty(allowable, 'psi'),
        },
      ],
    }),
    makeCheck({
      id: `${id}.shear`,
      title: `Shear of the top plates, ${load.side} temporary wall`,
      clause: nds(editions.nds, '3.4.2'),
      demand: qty((1.5 * perBay * joistLb) / area, 'psi'),
      capacity: qty(adjustedShearPsi(stud, factors, worst.loadDuration), 'psi'),
      governing: worst.combination,
    }),
  ];
}
