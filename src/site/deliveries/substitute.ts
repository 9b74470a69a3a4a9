import type { Goods } from '../../engineering/materials-list/index.ts';
import { SIZE_TOLERANCE_IN } from '../../engineering/materials-list/index.ts';
import type { Beam, Footing, Hanger, Member, Shoring, Support } from '../../engineering/proposal/design.ts';
import type { FasteningRow } from '../../engineering/fasteners/schedule/row.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';

/**
 * The content of an approved item with other goods in place of those it names: what the design would be if the yard's
 * offer were taken. Null where the goods have no place in such an item.
 */
export function withGoods(kind: ItemKind, content: unknown, goods: Goods): unknown {
  switch (kind) {
    case 'beam': {
      const beam = content as Beam;
      const member = memberOf(beam.member, goods);
      return member === null ? null : { ...beam, member };
    }
    case 'support':
      if (goods.kind !== 'sawn') return null;
      return { ...(content as Support), ...lumberOf(goods), size: goods.size };
    case 'shoring':
      if (goods.kind !== 'sawn') return null;
      return { ...(content as Shoring), ...lumberOf(goods), studSize: goods.size };
    case 'footing':
      return goods.kind === 'concrete' ? { ...(content as Footing), concretePsi: goods.strengthPsi } : null;
    case 'fastening': {
      if (goods.kind !== 'nail') return null;
      const { style, diameterIn, lengthIn } = goods;
      return { ...(content as FasteningRow), fastener: { kind: 'nail', style, diameterIn, lengthIn } };
    }
    case 'hanger':
      if (goods.kind !== 'nail') return null;
      return { ...(content as Hanger), nailDiameterIn: goods.diameterIn, nailLengthIn: goods.lengthIn };
    case 'criteria':
    case 'survey':
    case 'service':
    case 'drawing':
      return null;
  }
}

function lumberOf({ species, grade }: Extract<Goods, { kind: 'sawn' }>): { species: string; grade: string } {
  return { species, grade };
}

function memberOf(member: Member, goods: Goods): Member | null {
  const plies = 'plies' in member ? member.plies : 1;
  switch (goods.kind) {
    case 'composite': {
      const before = member.kind === 'composite' ? member : undefined;
      // A property sheet speaks for the product it was written for, and for no other.
      const declared = before?.class === goods.class ? before.declared : undefined;
      return {
        kind: 'composite',
        class: goods.class,
        thicknessIn: nominal(before?.thicknessIn, goods.thicknessIn),
        depthIn: nominal(before?.depthIn, goods.depthIn),
        plies,
        ...(declared === undefined ? {} : { declared }),
      };
    }
    case 'sawn':
      return member.kind === 'flitch'
        ? { ...member, ...lumberOf(goods), size: goods.size }
        : { kind: 'sawn', ...lumberOf(goods), size: goods.size, plies };
    case 'glulam':
      return {
        kind: 'glulam',
        combination: goods.combination,
        widthIn: goods.thicknessIn,
        depthIn: goods.depthIn,
      };
    case 'steel shape':
      return { kind: 'steel', shape: goods.shape, fyKsi: goods.fyKsi };
    case 'steel plate':
    case 'nail':
    case 'screw or bolt':
    case 'hanger':
    case 'concrete':
      return null;
  }
}

/** A size within what a tape can tell is the size that was called for. */
function nominal(calledForIn: number | undefined, measuredIn: number): number {
  return calledForIn !== undefined && Math.abs(calledForIn - measuredIn) <= SIZE_TOLERANCE_IN + 1e-9
    ? calledForIn
    : measuredIn;
}
