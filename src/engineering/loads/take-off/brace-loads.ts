import type { Criteria } from '../../proposal/criteria.ts';
import type { Brace, Roof, Survey } from '../../proposal/survey.ts';
import type { Clause } from '../../trace/clause.ts';
import { qty } from '../../trace/quantity.ts';
import { refuseUnless } from '../../trace/refusal.ts';
import type { Notice, Step } from '../../trace/step.ts';
import { radiansFromDegrees } from '../../units/conversions.ts';
import { serviceSnowFactor } from '../combinations.ts';
import type { LoadKind, PointLoad, SnowCase } from '../load.ts';
import { roofLiveLoad } from '../roof-live.ts';
import type { SlopeSnow } from '../snow/roof-snow.ts';
import { deadOnPlan, snowOnSurveyRoof } from './roof-surface.ts';

/** What one brace brings down, and what it pushes sideways at its foot. */
export interface BraceTakeOff {
  readonly id: string;
  readonly label: string;
  readonly side: Brace['side'];
  readonly positionIn: number;
  readonly verticalLb: Readonly<Record<Exclude<LoadKind, 'S'>, number>>;
  readonly snowLb: Readonly<Partial<Record<SnowCase, number>>>;
  /** Largest service load down the brace: D with Lr or with snow (0.7 of a strength-level one). */
  readonly serviceVerticalLb: number;
  /** Along the brace, compression. */
  readonly serviceAxialLb: number;
  /** Sideways at the foot, away from the slope that it holds up. */
  readonly serviceHorizontalLb: number;
  readonly steps: readonly Step[];
  readonly loads: readonly PointLoad[];
  readonly notices: readonly Notice[];
}

const EQUILIBRIUM: Clause = {
  standard: 'Mechanics',
  edition: '',
  section: 'equilibrium at the foot of the brace',
};

/**
 * Plan-average snow on the tributary area of a purlin brace. The purlin carries half of the rafter span on either
 * side of it, so its area lies between half way to the eave and half way to the ridge; the surcharge counts
 * where it overlaps that. Without the purlin's place the surcharge counts over the whole area.
 */
function averageSnowPsf(snow: SlopeSnow, brace: Brace, eaveToRidgeIn: number): number {
  if (snow.surcharge === undefined) return snow.uniformPsf;
  if (brace.purlinFromEaveIn === undefined) return snow.uniformPsf + snow.surcharge.psf;
  const nearestToRidgeIn = (eaveToRidgeIn - brace.purlinFromEaveIn) / 2;
  const widthIn = eaveToRidgeIn / 2;
  const coveredIn = Math.min(widthIn, Math.max(0, snow.surcharge.lengthIn - nearestToRidgeIn));
  return snow.uniformPsf + (snow.surcharge.psf * coveredIn) / widthIn;
}

/**
 * Point loads of one roof brace (IRC R802.4.5 purlin bracing). The whole vertical load of its tributary plan area
 * arrives at the foot (vertical equilibrium); the brace carries V ÷ sin α and pushes V ÷ tan α sideways.
 *
 * @param path of the brace in the survey, for refusals ('braces.0')
 * @throws Refusal for a foot past the wall, an angle outside 0° to 90°, a purlin beyond the ridge
 */
export function braceTakeOff(
  brace: Brace,
  path: string,
  survey: Survey,
  roof: Roof,
  criteria: Criteria,
): BraceTakeOff {
  refuseUnless(
    brace.positionIn <= survey.wallLengthIn,
    `${path}.positionIn`,
    `${brace.label} stands past the end of the wall.`,
  );
  refuseUnless(
    brace.angleDeg > 0 && brace.angleDeg <= 90,
    `${path}.angleDeg`,
    `${brace.label}: the angle is measured from the horizontal, above 0° and up to 90°.`,
  );
  const eaveToRidgeIn = brace.side === 'front' ? roof.frontEaveToRidgeIn : roof.rearEaveToRidgeIn;
  refuseUnless(
    brace.purlinFromEaveIn === undefined || brace.purlinFromEaveIn <= eaveToRidgeIn,
    `${path}.purlinFromEaveIn`,
    `${brace.label}: the purlin lies beyond the ridge.`,
  );
  const area = brace.tributaryFt2;
  const loads: PointLoad[] = [];
  const verticalLb: Record<Exclude<LoadKind, 'S'>, number> = { D: 0, L: 0, Lr: 0, W: 0 };
  const snowLb: Partial<Record<SnowCase, number>> = {};
  const add = (kind: LoadKind, psf: number, steps: readonly Step[], snowCase?: SnowCase): void => {
    const loadLb = psf * area;
    if (kind !== 'S') verticalLb[kind] = loadLb;
    else if (snowCase !== undefined) snowLb[snowCase] = loadLb;
    if (loadLb === 0) return;
    const suffix = snowCase === undefined ? kind : `${kind}.${snowCase.replace(' ', '-')}`;
    loads.push({
      form: 'point',
      source: { kind: 'brace', id: brace.id },
      label: brace.label,
      kind,
      ...(snowCase === undefined ? {} : { snowCase }),
      positionIn: brace.positionIn,
      loadLb,
      steps: [
        ...steps,
        {
          id: `${brace.id}.${suffix}`,
          title: `${brace.label}: ${kind} at the foot${snowCase === undefined ? '' : `, ${snowCase}`}`,
          clause: EQUILIBRIUM,
          formula: 'V = q · At',
          values: { q: qty(psf, 'psf'), At: qty(area, 'ft²') },
          result: qty(loadLb, 'lb'),
        },
      ],
    });
  };

  const dead = deadOnPlan(roof.deadOnSlopePsf, roof.riseIn12, brace.id);
  add('D', dead.psf, [dead.step]);
  const roofLive = roofLiveLoad({
    asce7: criteria.editions.asce7,
    tributaryFt2: area,
    riseIn12: roof.riseIn12,
  });
  add('Lr', roofLive.psf, roofLive.steps);
  // Rafters that rest on a purlin are not the simple rafters of ASCE 7 7.6.1.
  const snow = snowOnSurveyRoof(criteria, roof, roof.riseIn12, false);
  for (const way of snow.cases) {
    const onSlope = brace.side === 'front' ? way.front : way.rear;
    const psf = averageSnowPsf(onSlope, brace, eaveToRidgeIn);
    add('S', psf, [...way.steps, ...averageStep(brace, way.snowCase, onSlope, psf)], way.snowCase);
  }
  add('W', -criteria.windUpliftPsf, []);

  const snowService = serviceSnowFactor(criteria.editions) * Math.max(0, ...Object.values(snowLb));
  const serviceVerticalLb = verticalLb.D + Math.max(verticalLb.Lr, snowService);
  const forces = footForces(brace, serviceVerticalLb);
  return {
    id: brace.id,
    label: brace.label,
    side: brace.side,
    positionIn: brace.positionIn,
    verticalLb,
    snowLb,
    serviceVerticalLb,
    serviceAxialLb: forces.axialLb,
    serviceHorizontalLb: forces.horizontalLb,
    steps: forces.steps,
    loads,
    notices: snow.notices,
  };
}

function averageStep(brace: Brace, snowCase: SnowCase, snow: SlopeSnow, psf: number): Step[] {
  if (snow.surcharge === undefined) return [];
  return [
    {
      id: `${brace.id}.S.${snowCase.replace(' ', '-')}.average`,
      title: `${brace.label}: snow over its area, ${snowCase}`,
      clause: {
        standard: 'Practice',
        edition: '',
        section: 'average over the area',
        provenance: 'common practice',
      },
      formula: 'q = p + pd · k',
      values: {
        p: qty(snow.uniformPsf, 'psf'),
        pd: qty(snow.surcharge.psf, 'psf'),
        k: qty(snow.surcharge.psf === 0 ? 0 : (psf - snow.uniformPsf) / snow.surcharge.psf),
      },
      result: qty(psf, 'psf'),
      note:
        brace.purlinFromEaveIn === undefined
          ? 'k: the surcharge is counted over the whole area, because the purlin’s place is not in the survey.'
          : 'k: part of the area that the surcharge covers.',
    },
  ];
}

function footForces(
  brace: Brace,
  verticalLb: number,
): { axialLb: number; horizontalLb: number; steps: Step[] } {
  const angle = radiansFromDegrees(brace.angleDeg);
  const axialLb = verticalLb / Math.sin(angle);
  const horizontalLb = brace.angleDeg === 90 ? 0 : verticalLb / Math.tan(angle);
  const values = { V: qty(verticalLb, 'lb'), α: qty(brace.angleDeg, 'deg') };
  return {
    axialLb,
    horizontalLb,
    steps: [
      {
        id: `${brace.id}.axial`,
        title: `${brace.label}: force along the brace`,
        clause: EQUILIBRIUM,
        formula: 'P = V ÷ sin(α)',
        values,
        result: qty(axialLb, 'lb'),
        note: 'V: dead load with roof live load or service snow, whichever is more.',
      },
      {
        id: `${brace.id}.horizontal`,
        title: `${brace.label}: push at the foot`,
        clause: EQUILIBRIUM,
        formula: 'H = V ÷ tan(α)',
        values,
        result: qty(horizontalLb, 'lb'),
      },
    ],
  };
}
