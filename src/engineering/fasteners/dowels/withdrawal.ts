import { positive, qty, refuseUnless, type Editions, type Step } from '../../trace/index.ts';
import { declaredClause, ndsClause } from '../clauses.ts';
import { dowelProperties, type Fastener } from './fastener.ts';
import { gravityOf, type DowelMember } from './member.ts';
import { penetration, penetrationRule, type Method } from './penetration.ts';

/** Plain-shank nail, lb per inch in side grain: 1380 G^2.5 D (NDS Eq. 12.2-3, Table 12.2C; AWC E2.1a). */
export function nailWithdrawalLbPerIn(specificGravity: number, diameterIn: number): number {
  return 1380 * specificGravity ** 2.5 * positive(diameterIn, 'diameterIn');
}

/** Wood screw, lb per inch of thread: 2850 G² D (NDS Eq. 12.2-2, Table 12.2B, from memory). */
export function woodScrewWithdrawalLbPerIn(specificGravity: number, diameterIn: number): number {
  return 2850 * specificGravity ** 2 * positive(diameterIn, 'diameterIn');
}

/** Lag screw, lb per inch of thread, tip excluded: 1800 G^1.5 D^0.75 (NDS Eq. 12.2-1, Table 12.2A). */
export function lagWithdrawalLbPerIn(specificGravity: number, diameterIn: number): number {
  return 1800 * specificGravity ** 1.5 * positive(diameterIn, 'diameterIn') ** 0.75;
}

export interface WithdrawalPlane {
  readonly fastener: Fastener;
  readonly method: Method;
  readonly side: DowelMember;
  readonly main: DowelMember;
  readonly aheadIn: number;
  readonly path: string;
}

export interface ReferenceWithdrawal {
  /** W per inch, lb/in. */
  readonly perInchLb: number;
  /** Length that holds, in: nails with point, threads of screws, threads without tip of lag screws. */
  readonly holdingIn: number;
  /** W p of one fastener, lb, head pull-through not yet counted. */
  readonly totalLb: number;
  readonly steps: readonly Step[];
}

function perInch(fastener: Fastener, gravity: number, diameterIn: number): { lb: number; formula: string } {
  switch (fastener.kind) {
    case 'nail':
      return { lb: nailWithdrawalLbPerIn(gravity, diameterIn), formula: 'W = 1380 · G^2.5 · D' };
    case 'wood screw':
      return { lb: woodScrewWithdrawalLbPerIn(gravity, diameterIn), formula: 'W = 2850 · G² · D' };
    case 'lag screw':
      return { lb: lagWithdrawalLbPerIn(gravity, diameterIn), formula: 'W = 1800 · G^1.5 · D^0.75' };
    case 'structural screw':
      return { lb: fastener.withdrawalLbPerIn ?? 0, formula: 'W as declared' };
    case 'bolt':
      return { lb: 0, formula: 'W = 0' };
  }
}

/**
 * Reference withdrawal value of one fastener, lb (NDS 12.2). Nails and wood screws in end grain hold
 * nothing (12.2.2.3, 12.2.3.5): the value is zero; lag screws hold there with Ceg.
 * @throws Refusal for bolts (washers bear, they do not withdraw) and for a holding piece that isn't wood
 */
export function referenceWithdrawal(plane: WithdrawalPlane, editions: Editions): ReferenceWithdrawal {
  const { fastener, main, path } = plane;
  refuseUnless(
    fastener.kind !== 'bolt',
    `${path}.fastener`,
    'A bolt does not withdraw: its washers bear. Check washer bearing (NDS 3.10) instead of withdrawal.',
  );
  refuseUnless(
    main.material === 'wood',
    `${path}.members`,
    'Withdrawal is worked out from wood only; an anchor in concrete needs its declared tension value.',
  );
  refuseUnless(
    fastener.kind !== 'structural screw' || fastener.withdrawalLbPerIn !== undefined,
    `${path}.fastener.withdrawalLbPerIn`,
    'Enter the withdrawal value from the report of this screw before it is loaded in withdrawal.',
  );
  const dowel = dowelProperties(fastener);
  const gravity = gravityOf(main, `${path}.members.1`);
  const rule = penetrationRule(fastener);
  const place = penetration(
    dowel,
    rule,
    plane.method,
    plane.side.thicknessIn,
    main.thicknessIn,
    plane.aheadIn,
  );
  const { lb, formula } = perInch(fastener, gravity, dowel.diameterIn);
  const endGrainHoldsNothing = plane.method === 'end' && fastener.kind !== 'lag screw';
  const perInchLb = endGrainHoldsNothing ? 0 : lb;
  const threaded = dowel.threadLengthIn > 0;
  const tipLostIn =
    fastener.kind === 'lag screw' && place.protrudesIn < dowel.tipIn ? dowel.tipIn - place.protrudesIn : 0;
  // A point that comes out behind takes its part of the thread with it.
  const threadIn = threaded ? Math.max(0, dowel.threadLengthIn - place.protrudesIn) : Infinity;
  const holdingIn = Math.max(0, Math.min(place.alongShankIn, threadIn) - tipLostIn);
  const totalLb = perInchLb * holdingIn;
  const declared = fastener.kind === 'structural screw';
  return {
    perInchLb,
    holdingIn,
    totalLb,
    steps: [
      {
        id: `${path}.W`,
        title: endGrainHoldsNothing
          ? 'Withdrawal from end grain is not allowed to count'
          : 'Reference withdrawal value per inch',
        clause: declared ? declaredClause(fastener.report) : ndsClause(editions, '12.2'),
        formula: endGrainHoldsNothing ? 'W = 0' : formula,
        values: { G: qty(gravity), D: qty(dowel.diameterIn, 'in') },
        result: qty(perInchLb, 'lb/in'),
      },
      {
        id: `${path}.Wp`,
        title: 'Withdrawal of one fastener',
        clause: ndsClause(editions, '12.2'),
        formula: 'Wp = W · p',
        values: { W: qty(perInchLb, 'lb/in'), p: qty(holdingIn, 'in') },
        result: qty(totalLb, 'lb'),
      },
    ],
  };
}

/**
 * Head pull-through of a round head through a wood piece, lb (NDS 12.2.5, new in 2018, from memory):
 * 690 π DH G² t up to t = 2.5 DH, 1725 π DH² G² beyond.
 */
export function headPullThroughLb(
  headDiameterIn: number,
  specificGravity: number,
  thicknessIn: number,
): number {
  positive(headDiameterIn, 'headDiameterIn');
  positive(thicknessIn, 'thicknessIn');
  const effectiveIn = Math.min(thicknessIn, 2.5 * headDiameterIn);
  return 690 * Math.PI * headDiameterIn * specificGravity ** 2 * effectiveIn;
}

/** Pull-through of this fastener's head through the outer piece, lb; undefined where the head is not known. */
export function pullThroughOf(fastener: Fastener, side: DowelMember, path: string): number | undefined {
  if (fastener.kind === 'structural screw' && fastener.pullThroughLb !== undefined)
    return fastener.pullThroughLb;
  const { headDiameterIn } = dowelProperties(fastener);
  if (side.material !== 'wood' || headDiameterIn === undefined) return undefined;
  return headPullThroughLb(headDiameterIn, gravityOf(side, `${path}.members.0`), side.thicknessIn);
}

/**
 * Resistance to a load at an angle to the face, lb (NDS 12.4): lag screws by squares (Eq. 12.4-1), nails and
 * wood screws linearly (Eq. 12.4-2). Structural screws follow the lower, linear, rule.
 * @param angleDeg between the load and the wood face: 0 is pure lateral, 90 pure withdrawal
 */
export function combinedResistanceLb(
  fastener: Fastener,
  lateralLb: number,
  withdrawalLb: number,
  angleDeg: number,
): number {
  const angle = (angleDeg * Math.PI) / 180;
  const power = fastener.kind === 'lag screw' ? 2 : 1;
  const below = withdrawalLb * Math.cos(angle) ** power + lateralLb * Math.sin(angle) ** power;
  return below > 0 ? (withdrawalLb * lateralLb) / below : 0;
}
