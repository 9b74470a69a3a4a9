import {
  compositeMaterial,
  declaredCompositeMaterial,
  type DeclaredProperties,
} from '../materials/composite-lumber.ts';
import { glulamMaterial } from '../materials/glulam.ts';
import { rectangle, sawnSize, type SectionProperties } from '../materials/lumber-sizes.ts';
import { sawnMaterial } from '../materials/sawn-lumber.ts';
import type { WoodMaterial } from '../materials/wood-material.ts';
import { positive, refuseUnless } from '../trace/refusal.ts';
import type { NdsEdition } from './clauses.ts';

/** A beam or stud of wood: one piece, or plies side by side that bend together. */
export interface WoodMember {
  readonly material: WoodMaterial;
  /** '3-2x10 DF-L No.2', '3-1.75x11.875 LVL 2.0E'. */
  readonly label: string;
  readonly plies: number;
  readonly plyThicknessIn: number;
  readonly depthIn: number;
  /** All plies together. */
  readonly breadthIn: number;
  /** Sawn lumber only: what the size factors are read by. */
  readonly nominalThicknessIn?: number;
  readonly nominalWidthIn?: number;
  readonly section: SectionProperties;
  readonly weightPlf: number;
}

export interface SawnChoice {
  readonly kind: 'sawn';
  readonly species: string;
  readonly grade: string;
  readonly size: string;
  readonly plies: number;
}

export interface CompositeChoice {
  readonly kind: 'composite';
  readonly class: string;
  readonly thicknessIn: number;
  readonly depthIn: number;
  readonly plies: number;
  readonly declared?: DeclaredProperties | undefined;
}

export interface GlulamChoice {
  readonly kind: 'glulam';
  readonly combination: string;
  readonly widthIn: number;
  readonly depthIn: number;
}

export type WoodChoice = SawnChoice | CompositeChoice | GlulamChoice;

const SQUARE_INCHES_PER_SQUARE_FOOT = 144;

/**
 * The member behind a choice of a proposal.
 * @throws Refusal for names, sizes and ply counts that can't be.
 */
export function woodMember(choice: WoodChoice, edition: NdsEdition, path = 'member'): WoodMember {
  switch (choice.kind) {
    case 'sawn':
      return sawnMember(choice, edition, path);
    case 'composite':
      return compositeMember(choice, path);
    case 'glulam': {
      const widthIn = positive(choice.widthIn, `${path}.widthIn`);
      const depthIn = positive(choice.depthIn, `${path}.depthIn`);
      const material = glulamMaterial(choice.combination, edition, `${path}.combination`);
      return assemble(material, 1, widthIn, depthIn, `${widthIn}x${depthIn} ${material.label}`);
    }
  }
}

function sawnMember(choice: SawnChoice, edition: NdsEdition, path: string): WoodMember {
  validatePlies(choice.plies, `${path}.plies`);
  const size = sawnSize(choice.size, `${path}.size`);
  const material = sawnMaterial(choice.species, choice.grade, size, edition, path);
  const count = choice.plies === 1 ? '' : `${choice.plies}-`;
  return {
    ...assemble(
      material,
      choice.plies,
      size.thicknessIn,
      size.widthIn,
      `${count}${size.name} ${material.label}`,
    ),
    nominalThicknessIn: size.nominalThicknessIn,
    nominalWidthIn: size.nominalWidthIn,
  };
}

function compositeMember(choice: CompositeChoice, path: string): WoodMember {
  validatePlies(choice.plies, `${path}.plies`);
  const thicknessIn = positive(choice.thicknessIn, `${path}.thicknessIn`);
  const depthIn = positive(choice.depthIn, `${path}.depthIn`);
  const material =
    choice.declared === undefined
      ? compositeMaterial(choice.class, `${path}.class`)
      : declaredCompositeMaterial(choice.class, choice.declared, `${path}.declared`);
  const count = choice.plies === 1 ? '' : `${choice.plies}-`;
  return assemble(
    material,
    choice.plies,
    thicknessIn,
    depthIn,
    `${count}${thicknessIn}x${depthIn} ${material.label}`,
  );
}

function validatePlies(plies: number, path: string): void {
  refuseUnless(
    Number.isInteger(plies) && plies >= 1,
    path,
    'The number of plies is a whole number, 1 or more.',
  );
}

function assemble(
  material: WoodMaterial,
  plies: number,
  plyThicknessIn: number,
  depthIn: number,
  label: string,
): WoodMember {
  const breadthIn = plies * plyThicknessIn;
  const section = rectangle(breadthIn, depthIn);
  return {
    material,
    label,
    plies,
    plyThicknessIn,
    depthIn,
    breadthIn,
    section,
    weightPlf: (material.densityPcf * section.areaIn2) / SQUARE_INCHES_PER_SQUARE_FOOT,
  };
}

/** One ply of a pack, standing alone. */
export function onePly(member: WoodMember): WoodMember {
  const section = rectangle(member.plyThicknessIn, member.depthIn);
  return {
    ...member,
    label: `one ply of ${member.label}`,
    plies: 1,
    breadthIn: member.plyThicknessIn,
    section,
    weightPlf: member.weightPlf / member.plies,
  };
}
