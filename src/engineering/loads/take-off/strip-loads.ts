import type { Criteria } from '../../proposal/criteria.ts';
import type { Roof, Strip, Survey } from '../../proposal/survey.ts';
import { qty } from '../../trace/quantity.ts';
import { refuseUnless } from '../../trace/refusal.ts';
import type { Notice, Step } from '../../trace/step.ts';
import { feetFromInches, squareFeetFromSquareInches } from '../../units/conversions.ts';
import type { LineLoad, LoadKind, SnowCase } from '../load.ts';
import { roofLiveLoad } from '../roof-live.ts';
import { twoSpanReactions, type OverWall } from '../two-span.ts';
import { deadOnPlan, snowOnSurveyRoof } from './roof-surface.ts';
import { shareClause, sideGeometry, THREE_MOMENTS } from './strip-sides.ts';
import { snowFromSide } from './strip-snow.ts';

/** What one side of a strip brings to the wall or beam, plf; a hanger takes this times the joist spacing. */
export interface StripSide {
  readonly spanIn: number;
  /** Length of the span whose whole uniform load comes to the wall. */
  readonly shareIn: number;
  readonly plf: Readonly<Record<Exclude<LoadKind, 'S'>, number>>;
  readonly snowPlf: Readonly<Partial<Record<SnowCase, number>>>;
}

export interface StripTakeOff {
  readonly id: string;
  readonly label: string;
  readonly carries: Strip['carries'];
  readonly overWall: OverWall;
  readonly fromIn: number;
  readonly toIn: number;
  readonly spacingIn: number;
  readonly front: StripSide;
  readonly rear: StripSide;
  readonly loads: readonly LineLoad[];
  readonly notices: readonly Notice[];
}

/** What joists do at the beam: `cut`: a flush beam cuts them, so each side hangs from it as a simple span. */
export type JoistsAtBeam = 'as surveyed' | 'cut';

/** Joists that a flush beam cuts become simple spans; rafters stay whole over it. */
function overWallOf(strip: Strip, joists: JoistsAtBeam): OverWall {
  return joists === 'cut' && strip.carries !== 'roof' ? 'lapped' : strip.overWall;
}

/** Eave-to-ridge distances are measured to the wall or to the end of the overhang. Common practice. */
const WIDEST_OVERHANG_IN = 24;

/** Do the rafters span from ridge to eave, as the simple case of ASCE 7 7.6.1 asks? Shorter or longer ones do not. */
function spansEaveToRidge(strip: Strip, roof: Roof | undefined): boolean {
  if (roof === undefined) return true;
  const sides = [
    [strip.frontSpanIn, roof.frontEaveToRidgeIn],
    [strip.rearSpanIn, roof.rearEaveToRidgeIn],
  ] as const;
  return sides.every(([spanIn, slopeIn]) => spanIn === 0 || Math.abs(slopeIn - spanIn) <= WIDEST_OVERHANG_IN);
}

function refuseNonsense(strip: Strip, survey: Survey, path: string, fromIn: number, toIn: number): void {
  refuseUnless(
    strip.frontSpanIn > 0 || strip.rearSpanIn > 0,
    `${path}.frontSpanIn`,
    `${strip.label}: give the span on at least one side of the wall.`,
  );
  refuseUnless(
    strip.overWall === 'lapped' || (strip.frontSpanIn > 0 && strip.rearSpanIn > 0),
    `${path}.overWall`,
    `${strip.label}: joists that run on over the wall need a span on both sides.`,
  );
  refuseUnless(
    toIn > fromIn,
    `${path}.toIn`,
    `${strip.label}: the right end must lie right of the left end.`,
  );
  refuseUnless(
    toIn <= survey.wallLengthIn,
    `${path}.toIn`,
    `${strip.label} reaches past the end of the wall.`,
  );
  refuseUnless(
    strip.carries !== 'roof' || strip.livePsf === 0,
    `${path}.livePsf`,
    `${strip.label}: a roof's live load and snow are computed; leave its live load at zero.`,
  );
}

/**
 * Line loads of one strip by kind: load per square foot times the share of each span.
 *
 * @param path of the strip in the survey, for refusals ('strips.0')
 * @throws Refusal for a strip without spans, past the wall, or a roof without a pitch
 */
export function stripTakeOff(
  strip: Strip,
  path: string,
  survey: Survey,
  criteria: Criteria,
  joists: JoistsAtBeam,
): StripTakeOff {
  const fromIn = strip.fromIn ?? 0;
  const toIn = strip.toIn ?? survey.wallLengthIn;
  refuseNonsense(strip, survey, path, fromIn, toIn);
  const overWall = overWallOf(strip, joists);
  const front = sideGeometry(strip, 'front', overWall);
  const rear = sideGeometry(strip, 'rear', overWall);
  const loads: LineLoad[] = [];
  const notices: Notice[] = [];
  const frontPlf: Record<Exclude<LoadKind, 'S'>, number> = { D: 0, L: 0, Lr: 0, W: 0 };
  const rearPlf: Record<Exclude<LoadKind, 'S'>, number> = { D: 0, L: 0, Lr: 0, W: 0 };
  const frontSnow: Partial<Record<SnowCase, number>> = {};
  const rearSnow: Partial<Record<SnowCase, number>> = {};
  const common = {
    form: 'line',
    source: { kind: 'strip', id: strip.id },
    label: strip.label,
    fromIn,
    toIn,
  } as const;

  const addUniform = (kind: Exclude<LoadKind, 'S'>, psf: number, steps: readonly Step[]): void => {
    if (psf === 0) return;
    frontPlf[kind] = psf * feetFromInches(front.shareIn);
    rearPlf[kind] = psf * feetFromInches(rear.shareIn);
    const loadPlf = frontPlf[kind] + rearPlf[kind];
    loads.push({
      ...common,
      kind,
      loadPlf,
      steps: [
        ...steps,
        front.step,
        rear.step,
        {
          id: `${strip.id}.${kind}`,
          title: `${strip.label}: ${kind} on the wall`,
          clause: shareClause(overWall),
          formula: 'w = q · (bf + br)',
          values: {
            q: qty(psf, 'psf'),
            bf: qty(feetFromInches(front.shareIn), 'ft'),
            br: qty(feetFromInches(rear.shareIn), 'ft'),
          },
          result: qty(loadPlf, 'plf'),
        },
      ],
    });
  };

  if (strip.carries === 'roof') {
    const riseIn12 = strip.roofRiseIn12 ?? survey.roof?.riseIn12;
    refuseUnless(
      riseIn12 !== undefined,
      `${path}.roofRiseIn12`,
      `${strip.label}: give the pitch of the roof.`,
    );
    const dead = deadOnPlan(strip.deadPsf, riseIn12, strip.id);
    addUniform('D', dead.psf, [dead.step]);
    const loadedIn = Math.max(0, Math.min(toIn, survey.openingToIn) - Math.max(fromIn, survey.openingFromIn));
    const tributaryFt2 = squareFeetFromSquareInches(((strip.frontSpanIn + strip.rearSpanIn) / 2) * loadedIn);
    const roofLive = roofLiveLoad({ asce7: criteria.editions.asce7, tributaryFt2, riseIn12 });
    addUniform('Lr', roofLive.psf, roofLive.steps);
    const simpleRafters =
      strip.overWall === 'lapped' && survey.braces.length === 0 && spansEaveToRidge(strip, survey.roof);
    const snow = snowOnSurveyRoof(criteria, survey.roof, riseIn12, simpleRafters);
    notices.push(...snow.notices);
    for (const way of snow.cases) {
      const onFront = snowFromSide(strip, front, way.front, overWall, way.snowCase);
      const onRear = snowFromSide(strip, rear, way.rear, overWall, way.snowCase);
      const loadPlf = onFront.plf + onRear.plf;
      if (loadPlf === 0) continue;
      frontSnow[way.snowCase] = onFront.plf;
      rearSnow[way.snowCase] = onRear.plf;
      loads.push({
        ...common,
        kind: 'S',
        snowCase: way.snowCase,
        loadPlf,
        steps: [
          ...way.steps,
          front.step,
          ...onFront.steps,
          rear.step,
          ...onRear.steps,
          {
            id: `${strip.id}.S.${way.snowCase.replace(' ', '-')}`,
            title: `${strip.label}: snow on the wall, ${way.snowCase}`,
            clause: shareClause(overWall),
            formula: 'w = wf + wr',
            values: { wf: qty(onFront.plf, 'plf'), wr: qty(onRear.plf, 'plf') },
            result: qty(loadPlf, 'plf'),
          },
        ],
      });
    }
    if (snow.cases.some((way) => way.front.surcharge ?? way.rear.surcharge)) {
      // For two simple spans the wall's influence line falls all the way to the eave; for a continuous rafter whose
      // longer span is loaded it can rise away from the wall first.
      notices.push({
        id: `${strip.id}.ridge-over-wall`,
        severity: overWall === 'lapped' ? 'note' : 'caution',
        text: `${strip.label}: the drift surcharge is laid against this wall, as where the wall is under the ridge; ${overWall === 'lapped' ? 'elsewhere that is on the safe side' : 'if the ridge is elsewhere, the engineer places it'}.`,
      });
    }
    addUniform('W', -criteria.windUpliftPsf, []);
  } else {
    addUniform('D', strip.deadPsf, []);
    addUniform('L', strip.livePsf, []);
  }
  notices.push(...liftingEnds(strip, overWall));
  return {
    id: strip.id,
    label: strip.label,
    carries: strip.carries,
    overWall,
    fromIn,
    toIn,
    spacingIn: strip.spacingIn,
    front: { spanIn: front.spanIn, shareIn: front.shareIn, plf: frontPlf, snowPlf: frontSnow },
    rear: { spanIn: rear.spanIn, shareIn: rear.shareIn, plf: rearPlf, snowPlf: rearSnow },
    loads,
    notices,
  };
}

/** Very unequal continuous spans: the short one's far end lifts under live load on the long one. */
function liftingEnds(strip: Strip, overWall: OverWall): Notice[] {
  if (overWall !== 'continuous') return [];
  const notices: Notice[] = [];
  for (const shortSide of ['front', 'rear'] as const) {
    const live = strip.livePsf;
    const front = { span: strip.frontSpanIn, load: strip.deadPsf + (shortSide === 'rear' ? live : 0) };
    const rear = { span: strip.rearSpanIn, load: strip.deadPsf + (shortSide === 'front' ? live : 0) };
    const reactions = twoSpanReactions(front, rear);
    const far = shortSide === 'front' ? reactions.farFront : reactions.farRear;
    if (far < 0) {
      notices.push({
        id: `${strip.id}.${shortSide}-end-lifts`,
        severity: 'caution',
        text: `${strip.label}: with live load on the other span the far end of the ${shortSide} span lifts; the share on the wall assumes that end is held down.`,
        clause: THREE_MOMENTS,
      });
    }
  }
  return notices;
}
