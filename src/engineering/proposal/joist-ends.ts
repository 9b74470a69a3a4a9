import { rafterThrust } from '../fasteners/heel-joint.ts';
import type { StripTakeOff } from '../loads/take-off/strip-loads.ts';
import { formatQuantity, qty, type Editions, type Notice, type Quantity, type Step } from '../trace/index.ts';
import type { BeamActions } from './beam-actions.ts';
import type { Criteria } from './criteria.ts';
import type { Beam } from './design.ts';
import { governingLoad, type GoverningLoad } from './fastening/governing.ts';
import { undescribedPiece } from './fastening/pieces.ts';
import { tieLine } from './fastening/roof.ts';
import type { Survey } from './survey.ts';

/** What the ends of joists and rafters at the beam ask of their connections. */
export interface JoistEnds {
  readonly outputs: Readonly<Record<string, Quantity>>;
  readonly steps: readonly Step[];
  readonly notices: readonly Notice[];
}

const SIDES = ['front', 'rear'] as const;
type Side = (typeof SIDES)[number];

/**
 * The heaviest joist end on either side, what one rafter would bring if it too were hung, and the thrust of the rafters
 * that has to get across a flush beam where the joists it cuts tie them (IRC R802.5.2).
 */
export function joistEnds(
  survey: Survey,
  criteria: Criteria,
  beam: Pick<Beam, 'placement'>,
  actions: BeamActions,
): JoistEnds {
  const there = actions.takeOff.strips.filter(
    (strip) => strip.toIn > actions.geometry.fromIn && strip.fromIn < actions.geometry.toIn,
  );
  const joists = there.filter((strip) => strip.carries !== 'roof');
  const rafters = there.filter((strip) => strip.carries === 'roof');
  const flush = beam.placement === 'flush';
  const thrust = flush ? tieThrust(survey, criteria) : NOTHING;
  const hung = flush ? hungRafters(rafters, criteria.editions) : NOTHING;
  return {
    outputs: { ...joistOutputs(joists), ...hung.outputs, ...thrust.outputs },
    steps: thrust.steps,
    notices: [...hung.notices, ...thrust.notices],
  };
}

const NOTHING: JoistEnds = { outputs: {}, steps: [], notices: [] };

/** D with L in full: no combination of a floor or ceiling asks for more. */
function joistOutputs(joists: readonly StripTakeOff[]): Record<string, Quantity> {
  const outputs: Record<string, Quantity> = {};
  for (const side of SIDES) {
    const lines = joists.map((strip) => ({ strip, plf: strip[side].plf.D + strip[side].plf.L }));
    const heaviest = Math.max(0, ...lines.map(({ strip, plf }) => (plf * strip.spacingIn) / 12));
    if (heaviest === 0) continue;
    outputs[`joist end, ${side}`] = qty(heaviest, 'lb');
    outputs[`side load, ${side}`] = qty(
      lines.reduce((sum, { plf }) => sum + plf, 0),
      'plf',
    );
  }
  return outputs;
}

function rafterEnd(strip: StripTakeOff, side: Side, editions: Editions): GoverningLoad {
  const { plf, snowPlf } = strip[side];
  const feet = strip.spacingIn / 12;
  return governingLoad(editions, {
    D: plf.D * feet,
    Lr: plf.Lr * feet,
    S: Math.max(0, ...Object.values(snowPlf)) * feet,
  });
}

/** Rafters are counted as standing on the beam; cut and hung, each asks this of its hanger. */
function hungRafters(rafters: readonly StripTakeOff[], editions: Editions): JoistEnds {
  const outputs: Record<string, Quantity> = {};
  const words: string[] = [];
  for (const side of SIDES) {
    const ends = rafters.map((strip) => rafterEnd(strip, side, editions));
    const worst = ends.reduce<GoverningLoad | undefined>(
      (most, one) => (most === undefined || one.value > most.value ? one : most),
      undefined,
    );
    if (worst === undefined || worst.value <= 0) continue;
    const load = qty(worst.value, 'lb');
    outputs[`rafter end, ${side}`] = load;
    words.push(`${formatQuantity(load)} on the ${side} side (${worst.combination})`);
  }
  if (words.length === 0) return NOTHING;
  return {
    outputs,
    steps: [],
    notices: [
      {
        id: 'beam.rafters-on-top',
        severity: 'note',
        text: `Rafters are counted as standing whole on top of the beam. If they are cut and hung from it, each hanger carries ${words.join(', ')}.`,
      },
    ],
  };
}

function tieThrust(survey: Survey, criteria: Criteria): JoistEnds {
  if (!survey.strips.some((strip) => strip.carries === 'ceiling' && strip.tiesRafters === true))
    return NOTHING;
  const ties = tieLine(survey, criteria, undescribedPiece('joist', '2x6', criteria.editions));
  if (ties === undefined) {
    const text =
      'The ceiling joists that the beam cuts tie the rafters, and the survey does not describe a pitched roof: the thrust that must cross the beam is not calculated.';
    return { ...NOTHING, notices: [{ id: 'beam.tie-thrust', severity: 'caution', text }] };
  }
  const { thrustLb, steps } = rafterThrust(ties.rafters, criteria.editions, 'tie');
  const perFoot = qty((thrustLb * 12) / ties.rafters.spacingIn, 'plf');
  const perJoist = qty((thrustLb * ties.strapEveryIn) / ties.rafters.spacingIn, 'lb');
  return {
    outputs: { 'thrust across the beam': perFoot, 'thrust across the beam, each joist': perJoist },
    steps,
    notices: [
      {
        id: 'beam.tie-thrust',
        severity: 'caution',
        text: `The ceiling joists that the beam cuts tie the rafters: ${formatQuantity(perFoot)} of thrust (${ties.combination}), ${formatQuantity(perJoist)} at each joist, must cross the beam. Strap joist to joist over it before they are cut.`,
        clause: {
          standard: 'IRC',
          edition: criteria.editions.irc,
          section: 'R802.5.2',
          provenance: 'from memory',
        },
      },
    ],
  };
}
