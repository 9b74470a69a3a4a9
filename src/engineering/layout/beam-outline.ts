import { sawnSize } from '../materials/lumber-sizes.ts';
import type { Member } from '../proposal/design.ts';
import { wideFlange } from '../steel/index.ts';
import { woodMember } from '../wood/index.ts';
import type { Editions } from '../trace/index.ts';
import { DRESSED_2X_IN } from './measured.ts';

/** One piece that a beam is put together from, as it is carried in. */
export interface BeamPiece {
  readonly label: string;
  readonly count: number;
  readonly material: 'sawn lumber' | 'composite lumber' | 'glulam' | 'steel shape' | 'steel plate';
  readonly thicknessIn: number;
  readonly depthIn: number;
  readonly weightPlf: number;
}

export interface BeamOutline {
  readonly widthIn: number;
  readonly depthIn: number;
  readonly weightPlf: number;
  readonly pieces: readonly BeamPiece[];
}

const STEEL_PCF = 490;

/**
 * Outline and pieces of a beam. Nailed 2x plies count as measured (`plyIn`), everything else as made. Refuses names
 * the tables do not hold.
 */
export function beamOutline(member: Member, editions: Editions, plyIn: number): BeamOutline {
  switch (member.kind) {
    case 'steel': {
      const shape = wideFlange(member.shape);
      return outline(shape.flangeWidthIn, shape.depthIn, [
        {
          label: shape.shape,
          count: 1,
          material: 'steel shape',
          thicknessIn: shape.flangeWidthIn,
          depthIn: shape.depthIn,
          weightPlf: shape.weightPlf,
        },
      ]);
    }
    case 'flitch': {
      const size = sawnSize(member.size, 'member.size');
      const wood = woodMember(
        { kind: 'sawn', species: member.species, grade: member.grade, size: member.size, plies: 1 },
        editions.nds,
      );
      const ply = size.thicknessIn === DRESSED_2X_IN ? plyIn : size.thicknessIn;
      return outline(member.woodPlies * ply + member.plates * member.plateThicknessIn, size.widthIn, [
        {
          label: wood.label,
          count: member.woodPlies,
          material: 'sawn lumber',
          thicknessIn: size.thicknessIn,
          depthIn: size.widthIn,
          weightPlf: wood.weightPlf,
        },
        {
          label: `steel plate ${member.plateThicknessIn} x ${member.plateDepthIn}, A36`,
          count: member.plates,
          material: 'steel plate',
          thicknessIn: member.plateThicknessIn,
          depthIn: member.plateDepthIn,
          weightPlf: (member.plateThicknessIn * member.plateDepthIn * STEEL_PCF) / 144,
        },
      ]);
    }
    case 'sawn':
    case 'composite':
    case 'glulam': {
      const whole = woodMember(member, editions.nds);
      const count = whole.plies;
      const nailed2x = member.kind === 'sawn' && whole.plyThicknessIn === DRESSED_2X_IN && count > 1;
      return outline(nailed2x ? count * plyIn : whole.breadthIn, whole.depthIn, [
        {
          label: count === 1 ? whole.label : whole.label.replace(`${count}-`, ''),
          count,
          material:
            member.kind === 'sawn'
              ? 'sawn lumber'
              : member.kind === 'composite'
                ? 'composite lumber'
                : 'glulam',
          thicknessIn: whole.plyThicknessIn,
          depthIn: whole.depthIn,
          weightPlf: whole.weightPlf / count,
        },
      ]);
    }
  }
}

function outline(widthIn: number, depthIn: number, pieces: readonly BeamPiece[]): BeamOutline {
  const weightPlf = pieces.reduce((sum, piece) => sum + piece.count * piece.weightPlf, 0);
  return { widthIn, depthIn, weightPlf, pieces };
}
