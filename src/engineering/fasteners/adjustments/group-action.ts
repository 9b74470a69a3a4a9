import { positive, refuseUnless } from '../../trace/index.ts';

export interface GroupAction {
  /** Fasteners in one row, in the direction of the load. */
  readonly count: number;
  readonly diameterIn: number;
  /** Centre to centre in the row, in. */
  readonly spacingIn: number;
  /** Modulus × gross section of the main member, lb. */
  readonly mainStiffnessLb: number;
  /** Sum over the side members, lb. */
  readonly sideStiffnessLb: number;
  /** Load/slip modulus: 180,000 D^1.5 wood to wood, 270,000 D^1.5 wood to metal. */
  readonly toSteel: boolean;
}

/**
 * Group action factor Cg (NDS Eq. 11.3-1). One fastener, or D below 1/4 in: 1.0.
 * Check: WE-bolt-ds (two 5/8 in bolts, Cg 0.9957).
 */
export function groupActionFactor(group: GroupAction): number {
  refuseUnless(
    Number.isInteger(group.count) && group.count >= 1,
    'count',
    'A row holds a whole number of fasteners, one or more.',
  );
  if (group.count === 1 || group.diameterIn < 0.25) return 1;
  const n = group.count;
  const eMain = positive(group.mainStiffnessLb, 'mainStiffnessLb');
  const eSide = positive(group.sideStiffnessLb, 'sideStiffnessLb');
  const gamma = (group.toSteel ? 270_000 : 180_000) * group.diameterIn ** 1.5;
  const ratio = Math.min(eSide / eMain, eMain / eSide);
  const u = 1 + gamma * (positive(group.spacingIn, 'spacingIn') / 2) * (1 / eMain + 1 / eSide);
  const m = u - Math.sqrt(u ** 2 - 1);
  const first = (m * (1 - m ** (2 * n))) / (n * ((1 + ratio * m ** n) * (1 + m) - 1 + m ** (2 * n)));
  return Math.min(1, (first * (1 + ratio)) / (1 - m));
}
