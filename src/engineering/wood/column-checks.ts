import { qty } from '../trace/quantity.ts';
import { type Check, makeCheck, type Step } from '../trace/step.ts';
import { compressionStarStep } from './bearing.ts';
import { nds } from './clauses.ts';
import {
  type ActingColumn,
  type AxisStability,
  type ColumnResistance,
  type ColumnState,
  evaluateWoodColumn,
} from './column.ts';
import type { WoodColumnInput } from './column-input.ts';

/**
 * Every check of a wood column with its trace: slenderness, axial compression with buckling about both
 * axes, and combined stress where it is bent or loaded off its centre.
 * @throws Refusal as `validateWoodColumn`.
 */
export function checkWoodColumn(input: WoodColumnInput): Check[] {
  const { acting, states } = evaluateWoodColumn(input);
  return states.map((state) => checkOf(input, acting, state));
}

const DIRECTION = { strong: 'in the direction of the wide face', weak: 'across the plies' } as const;

function checkOf(input: WoodColumnInput, acting: ActingColumn, state: ColumnState): Check {
  switch (state.kind) {
    case 'slenderness':
      return makeCheck({
        id: state.id,
        title: 'Slenderness of the column',
        clause: nds(input.edition, '3.7.1'),
        demand: qty(state.demand),
        capacity: qty(state.capacity),
        sentence: (passes) =>
          passes
            ? `le/d is within ${state.capacity} (3.7.1.4).`
            : `le/d is more than ${state.capacity} (3.7.1.4) ${DIRECTION[state.axis.axis]}: ${acting.share < 1 ? 'brace it, or join the plies so that they count as one' : 'brace it, or take a thicker column'}.`,
        steps: [slendernessStep(state.id, input, state.axis)],
      });
    case 'axial':
      return makeCheck({
        id: state.id,
        title: 'Compression along the grain',
        clause: nds(input.edition, '3.6.3'),
        demand: qty(state.demand, 'psi'),
        capacity: qty(state.capacity, 'psi'),
        governing: state.combination.name,
        steps: [
          stressStep(state.id, input, acting, state.combination.axialLb, state.demand),
          ...resistanceSteps(state.id, input, acting, state.resistance, state.combination.loadDuration),
        ],
      });
    case 'combined':
      return combinedCheck(input, acting, state);
  }
}

function slendernessStep(id: string, input: WoodColumnInput, axis: AxisStability): Step {
  const section = acts(input) ? '15.3.2' : '3.7.1';
  return {
    id: `${id}.${axis.axis}`,
    title: `Slenderness ${DIRECTION[axis.axis]}`,
    clause: nds(input.edition, section),
    formula: 'le/d = Ke · l ÷ d',
    values: {
      Ke: qty(input.effectiveLengthFactor ?? 1),
      l: qty(axis.effectiveIn / (input.effectiveLengthFactor ?? 1), 'in'),
      d: qty(axis.sideIn, 'in'),
    },
    result: qty(axis.slenderness),
  };
}

/** Do several plies act as one built-up column? */
function acts(input: WoodColumnInput): boolean {
  return input.member.plies > 1 && input.fastening !== 'not qualifying';
}

function stressStep(
  id: string,
  input: WoodColumnInput,
  acting: ActingColumn,
  axialLb: number,
  stressPsi: number,
): Step {
  const alone = acting.share < 1;
  return {
    id: `${id}.stress`,
    title: 'Compression stress',
    clause: nds(input.edition, '3.6.3'),
    formula: alone ? 'fc = P ÷ (n · A)' : 'fc = P ÷ A',
    values: {
      P: qty(axialLb, 'lb'),
      ...(alone ? { n: qty(input.member.plies, 'each') } : {}),
      A: qty(acting.member.section.areaIn2, 'in²'),
    },
    result: qty(stressPsi, 'psi'),
    ...(alone ? { note: 'The fastening does not qualify (15.3.3, 15.3.4): each ply stands alone.' } : {}),
  };
}

function resistanceSteps(
  id: string,
  input: WoodColumnInput,
  acting: ActingColumn,
  resistance: ColumnResistance,
  loadDuration: number,
): Step[] {
  return [
    compressionStarStep(id, acting.member, acting.factors, loadDuration, resistance.starPsi),
    ...axisSteps(id, input, resistance, resistance.strong),
    ...axisSteps(id, input, resistance, resistance.weak),
    ...singlePlySteps(id, input, resistance),
    {
      id: `${id}.adjusted`,
      title: 'Adjusted compression value',
      clause: nds(input.edition, '3.7.1'),
      formula: 'Fc′ = Fc* · CP',
      values: { 'Fc*': qty(resistance.starPsi, 'psi'), CP: qty(resistance.governing.factor) },
      result: qty(resistance.adjustedPsi, 'psi'),
      note: `Buckling ${DIRECTION[resistance.governing.axis]} governs.`,
    },
  ];
}

function axisSteps(
  id: string,
  input: WoodColumnInput,
  resistance: ColumnResistance,
  axis: AxisStability,
): Step[] {
  const number = axis.axis === 'strong' ? '1' : '2';
  return [
    slendernessStep(id, input, axis),
    {
      id: `${id}.FcE${number}`,
      title: `Critical buckling value ${DIRECTION[axis.axis]}`,
      clause: nds(input.edition, '3.7.1'),
      formula: `FcE${number} = 0.822 · Emin′ ÷ s²`,
      values: { 'Emin′': qty(axis.eminPsi, 'psi'), s: qty(axis.slenderness) },
      result: qty(axis.criticalPsi, 'psi'),
    },
    {
      id: `${id}.CP${number}`,
      title: `Column stability factor ${DIRECTION[axis.axis]}`,
      clause: nds(input.edition, acts(input) ? '15.3.2' : 'Eq. 3.7-1'),
      formula: `CP${number} = Kf · ((1 + r)/(2 · c) − √([(1 + r)/(2 · c)]² − r/c))`,
      values: {
        Kf: qty(axis.fasteningFactor),
        r: qty(axis.criticalPsi / resistance.starPsi),
        c: qty(resistance.c),
      },
      result: qty(axis.factor),
      note: `r = FcE${number} ÷ Fc*.`,
    },
  ];
}

/** Closely braced plies do better by themselves than as a nailed pack: the standard lets them. */
function singlePlySteps(id: string, input: WoodColumnInput, resistance: ColumnResistance): Step[] {
  const { singlePly } = resistance;
  if (singlePly === undefined) return [];
  return [
    {
      id: `${id}.CPply`,
      title: 'Column stability factor of each ply by itself, across it',
      clause: nds(input.edition, '15.3.2.2'),
      formula: 'CP_ply = (1 + r)/(2 · c) − √([(1 + r)/(2 · c)]² − r/c)',
      values: { r: qty(singlePly.criticalPsi / resistance.starPsi), c: qty(resistance.c) },
      result: qty(singlePly.factor),
      note: `Fc′ of the pack need not be less than that of its plies; le/d of one ply ${singlePly.slenderness.toFixed(1)}.`,
    },
  ];
}

function combinedCheck(
  input: WoodColumnInput,
  acting: ActingColumn,
  state: Extract<ColumnState, { kind: 'combined' }>,
): Check {
  const { numbers: n, interaction, lateral } = state.stress;
  const offCentre = n.eccentric1 + n.eccentric2 > 0;
  const section = offCentre ? 'Eq. 15.4-1' : 'Eq. 3.9-3';
  const first = offCentre ? '[fb1 + e1·(1 + 0.234·fc/FcE1)]' : 'fb1';
  const second = offCentre ? '[fb2 + e2·(1 + 0.234·fc/FcE2 + 0.234·m²)]' : 'fb2';
  const stresses = {
    fc: qty(n.fc, 'psi'),
    FcE2: qty(n.fcE2, 'psi'),
    m: qty((n.fb1 + n.eccentric1) / n.fbE),
  };
  return makeCheck({
    id: state.id,
    title: 'Compression with bending',
    clause: nds(input.edition, offCentre ? '15.4' : '3.9.2'),
    demand: qty(state.demand),
    capacity: qty(state.capacity),
    governing: state.combination.name,
    sentence: (passes, ratio) => {
      if (passes)
        return `Compression with bending uses ${(100 * ratio).toFixed(0)} percent of what there is.`;
      if (!Number.isFinite(ratio))
        return 'The column buckles before it bends: more plies, or closer bracing.';
      return `Compression with bending takes ${(100 * ratio).toFixed(0)} percent of what there is.`;
    },
    steps: [
      stressStep(state.id, input, acting, state.combination.axialLb, n.fc),
      ...resistanceSteps(state.id, input, acting, state.resistance, state.combination.loadDuration),
      {
        id: `${state.id}.interaction`,
        title: 'Compression with bending about both axes',
        clause: nds(input.edition, section),
        formula: `r = (fc/Fc′)² + ${first} / [Fb1′·(1 − fc/FcE1)] + ${second} / [Fb2′·(1 − fc/FcE2 − m²)]`,
        values: {
          ...stresses,
          'Fc′': qty(n.fcAdjusted, 'psi'),
          FcE1: qty(n.fcE1, 'psi'),
          fb1: qty(n.fb1, 'psi'),
          'Fb1′': qty(n.fb1Adjusted, 'psi'),
          fb2: qty(n.fb2, 'psi'),
          'Fb2′': qty(n.fb2Adjusted, 'psi'),
          ...(offCentre ? { e1: qty(n.eccentric1, 'psi'), e2: qty(n.eccentric2, 'psi') } : {}),
        },
        result: qty(interaction),
        note: 'm is the bending stress on edge ÷ FbE; a term falls away where nothing bends that axis.',
      },
      {
        id: `${state.id}.lateral`,
        title: 'Buckling sideways under both',
        clause: nds(input.edition, offCentre ? 'Eq. 15.4-2' : 'Eq. 3.9-4'),
        formula: 'r = fc/FcE2 + m²',
        values: stresses,
        result: qty(lateral),
      },
    ],
  });
}
