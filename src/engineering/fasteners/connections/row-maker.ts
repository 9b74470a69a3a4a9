import type { Editions } from '../../trace/index.ts';
import { judgeRow } from '../schedule/judge.ts';
import type { FasteningRow, RowMember } from '../schedule/row.ts';
import type { FasteningContext, WoodPiece } from './context.ts';

export function woodMember(piece: WoodPiece, over: Partial<RowMember> = {}): RowMember {
  return {
    name: piece.name,
    species: piece.species,
    material: 'wood',
    specificGravity: piece.specificGravity,
    thicknessIn: piece.thicknessIn,
    widthIn: piece.widthIn,
    angleDeg: 0,
    ePsi: piece.ePsi,
    ...over,
  };
}

export function steelMember(name: string, thicknessIn: number, widthIn: number): RowMember {
  return { name, species: '', material: 'steel', thicknessIn, widthIn, angleDeg: 0, ePsi: 29_000_000 };
}

type Given = Pick<
  FasteningRow,
  'id' | 'joint' | 'where' | 'members' | 'fastener' | 'pattern' | 'demand' | 'basis'
>;

/** A row with the usual answers to what a proposal leaves open: face-driven, one side, dry, not bored. */
export function makeRow(context: FasteningContext, given: Given & Partial<FasteningRow>): FasteningRow {
  return {
    layup: 'through',
    betweenIn: 0,
    method: 'face',
    driven: 'one side',
    edgeDistanceIn: 1,
    endDistanceIn: 2.5,
    endLoading: 'compression',
    loadRuns: 'along rows',
    prebored: false,
    inDiaphragm: false,
    conditions: context.conditions,
    note: '',
    ...given,
  };
}

/**
 * The first candidate that passes without advice against it; else the first that passes; else the last, which
 * shows the reader how far the strongest of them falls short.
 */
export function firstThatPasses(candidates: readonly FasteningRow[], editions: Editions): FasteningRow {
  let passing: FasteningRow | undefined;
  for (const candidate of candidates) {
    const judged = judgeRow(candidate, editions);
    if (!judged.passes) continue;
    if (judged.advice.every((check) => check.passes)) return candidate;
    passing ??= candidate;
  }
  const chosen = passing ?? candidates[candidates.length - 1];
  if (chosen === undefined) throw new Error('A proposal was asked for without a candidate.');
  return chosen;
}

/** Down to the eighth of an inch that a tape is read by, and up to it. */
export function eighthDown(lengthIn: number): number {
  return Math.floor(lengthIn * 8 + 1e-9) / 8;
}
export function eighthUp(lengthIn: number): number {
  return Math.ceil(lengthIn * 8 - 1e-9) / 8;
}
