import type { Editions } from '../../../src/engineering/trace/index.ts';
import { pennyNail } from '../../../src/engineering/fasteners/dowels/fastener.ts';
import type { FasteningRow, RowMember } from '../../../src/engineering/fasteners/schedule/row.ts';

export const EDITIONS: Editions = {
  asce7: '7-22',
  nds: '2018',
  irc: '2021',
  aci318: '318-19',
  aisc360: '360-22',
};

export function ply(name: string, over: Partial<RowMember> = {}): RowMember {
  return {
    name,
    species: 'DF-L No. 2',
    material: 'wood',
    specificGravity: 0.5,
    thicknessIn: 1.5,
    widthIn: 5.5,
    angleDeg: 0,
    ePsi: 1_600_000,
    ...over,
  };
}

/** Three 16d common nails through a 2x into a 4x: 423 lb at CD 1. */
export function row(over: Partial<FasteningRow> = {}): FasteningRow {
  return {
    id: 'row',
    joint: 'other',
    where: 'Test joint',
    members: [ply('side'), ply('main', { thicknessIn: 3.5 })],
    layup: 'through',
    betweenIn: 0,
    fastener: pennyNail('common', '16d'),
    method: 'face',
    driven: 'one side',
    pattern: { kind: 'count', count: 3, rows: 1, spacingIn: 3, rowSpacingIn: 0, staggered: false },
    edgeDistanceIn: 2.75,
    endDistanceIn: 3,
    endLoading: 'tension',
    loadRuns: 'along rows',
    prebored: false,
    inDiaphragm: false,
    conditions: { madeWhen: 'dry', usedWhen: 'dry', temperatureF: 70 },
    demand: {
      per: 'joint',
      lateralLb: 300,
      withdrawalLb: 0,
      durationFactor: 1,
      combination: 'D + L',
      source: 'test',
    },
    basis: { kind: 'yield limit', shear: 'single' },
    note: '',
    ...over,
  };
}
