import type { WoodPiece } from '../../fasteners/connections/context.ts';
import { SPECIES, SPECIES_CODES } from '../../materials/wood-species.ts';
import type { Editions } from '../../trace/index.ts';
import { woodMember, type WoodMember } from '../../wood/index.ts';
import type { Member, Support } from '../design.ts';

/** One ply of a member, as a piece to be fastened. */
export function pieceOf(name: string, member: WoodMember): WoodPiece {
  const { material, plyThicknessIn, depthIn } = member;
  return {
    name,
    species: material.label,
    specificGravity: material.specificGravity,
    thicknessIn: plyThicknessIn,
    widthIn: depthIn,
    ePsi: material.reference.ePsi,
  };
}

/** The lightest species this program holds: what takes its fastener worst. */
const LIGHTEST = SPECIES_CODES.map((code) => SPECIES[code]).reduce((least, one) =>
  one.specificGravity < least.specificGravity ? one : least,
);

/**
 * Lumber that the survey does not describe (joists, braces) is taken as the lightest species held and as the least
 * size that such a piece has, so that what is found on site can only be better.
 */
export function undescribedPiece(name: string, size: string, editions: Pick<Editions, 'nds'>): WoodPiece {
  const member = woodMember(
    { kind: 'sawn', species: LIGHTEST.code, grade: 'No.2', size, plies: 1 },
    editions.nds,
    name,
  );
  return { ...pieceOf(name, member), species: `${LIGHTEST.code} taken, stamp not surveyed` };
}

export interface BeamPlies {
  readonly ply: WoodPiece;
  readonly plies: number;
}

/**
 * The plies of a wood beam. A flitch beam counts as its outer ply alone: its bolts are judged with the beam, and nails
 * into its face end in that ply. Steel has none.
 */
export function beamPlies(member: Member, editions: Pick<Editions, 'nds'>): BeamPlies | undefined {
  switch (member.kind) {
    case 'steel':
      return undefined;
    case 'flitch': {
      const { species, grade, size } = member;
      const wood = woodMember({ kind: 'sawn', species, grade, size, plies: 1 }, editions.nds);
      return { ply: pieceOf('outer ply', wood), plies: 1 };
    }
    case 'sawn':
    case 'composite':
    case 'glulam': {
      const wood = woodMember(member, editions.nds);
      return { ply: pieceOf('ply', wood), plies: wood.plies };
    }
  }
}

/** A stud of the pack and the plate it stands on: a 2x of the studs' width. */
export function packPieces(
  support: Pick<Support, 'species' | 'grade' | 'size' | 'plateSpecies' | 'plateGrade'>,
  editions: Pick<Editions, 'nds'>,
): { readonly stud: WoodPiece; readonly plate: WoodPiece } {
  const { species, grade, size, plateSpecies, plateGrade } = support;
  const stud = woodMember({ kind: 'sawn', species, grade, size, plies: 1 }, editions.nds, 'pack');
  const width = size.slice(size.indexOf('x') + 1);
  const plate = woodMember(
    { kind: 'sawn', species: plateSpecies, grade: plateGrade, size: `2x${width}`, plies: 1 },
    editions.nds,
    'plate',
  );
  return { stud: pieceOf(`stud ${size}`, stud), plate: pieceOf('plate', plate) };
}
